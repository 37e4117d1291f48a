package problems

// The file's own shape: keys as written. Expressions stay text until the
// symbols are known.
type (
	file struct {
		ID        string        `toml:"id"`
		Title     string        `toml:"title"`
		Family    string        `toml:"family"`
		Level     int           `toml:"level"`
		Statement string        `toml:"statement"`
		Caution   string        `toml:"caution"`
		Skills    []string      `toml:"skills"`
		Require   []string      `toml:"require"`
		Givens    []fileGiven   `toml:"givens"`
		Defined   []fileDefined `toml:"defined"`
		Unknowns  []fileUnknown `toml:"unknowns"`
		Bodies    []fileBody    `toml:"bodies"`
		Joints    []fileJoint   `toml:"joints"`
		Steady    *fileSteady   `toml:"steady"`
		Limit     *fileLimit    `toml:"limit"`
		Asks      []fileAsk     `toml:"asks"`
		Hints     []fileHint    `toml:"hints"`
		Slips     []fileSlip    `toml:"slips"`
		Figure    []fileDrawn   `toml:"figure"`
	}
	fileGiven struct {
		Symbol  string   `toml:"symbol"`
		Meaning string   `toml:"meaning"`
		Unit    string   `toml:"unit"`
		From    *float64 `toml:"from"`
		To      *float64 `toml:"to"`
		Step    *float64 `toml:"step"`
		Value   *float64 `toml:"value"`
	}
	fileDefined struct {
		Symbol  string `toml:"symbol"`
		Meaning string `toml:"meaning"`
		Unit    string `toml:"unit"`
		Is      string `toml:"is"`
	}
	fileUnknown struct {
		Symbol  string   `toml:"symbol"`
		Meaning string   `toml:"meaning"`
		Unit    string   `toml:"unit"`
		Within  []string `toml:"within"`
	}
	fileBody struct {
		Name     string        `toml:"name"`
		Of       []string      `toml:"of"`
		Points   []filePoint   `toml:"points"`
		Marks    []filePoint   `toml:"marks"`
		Forces   []fileForce   `toml:"forces"`
		Supports []fileSupport `toml:"supports"`
		Couples  []fileCouple  `toml:"couples"`
		Loads    []fileLoad    `toml:"loads"`
	}
	filePoint struct {
		Name    string `toml:"name"`
		Meaning string `toml:"meaning"`
		At      string `toml:"at"`
	}
	fileForce struct {
		Symbol  string `toml:"symbol"`
		Meaning string `toml:"meaning"`
		Kind    string `toml:"kind"`
		At      string `toml:"at"`
		Angle   string `toml:"angle"`
		Toward  string `toml:"toward"`
	}
	fileSupport struct {
		Kind    string   `toml:"kind"`
		At      string   `toml:"at"`
		Symbols []string `toml:"symbols"`
		Angles  []string `toml:"angles"`
		Toward  string   `toml:"toward"`
		Slides  bool     `toml:"slides"`
		MaySlip bool     `toml:"may_slip"`
	}
	fileJoint struct {
		On      []string `toml:"on"`
		Kind    string   `toml:"kind"`
		At      string   `toml:"at"`
		To      string   `toml:"to"`
		Symbols []string `toml:"symbols"`
		Angles  []string `toml:"angles"`
		Slides  bool     `toml:"slides"`
		MaySlip bool     `toml:"may_slip"`
	}
	fileCouple struct {
		Symbol  string `toml:"symbol"`
		Meaning string `toml:"meaning"`
		Sense   string `toml:"sense"`
	}
	fileLoad struct {
		Symbol    string `toml:"symbol"`
		Meaning   string `toml:"meaning"`
		PerLength string `toml:"per_length"`
		Length    string `toml:"length"`
		From      string `toml:"from"`
		To        string `toml:"to"`
		Shape     string `toml:"shape"`
		Angle     string `toml:"angle"`
	}
	fileSteady struct {
		Inertia string `toml:"inertia"`
		Centre  string `toml:"centre"`
	}
	fileLimit struct {
		Question string `toml:"question"`
		Symbol   string `toml:"symbol"`
		Vary     string `toml:"vary"`
		Toward   string `toml:"toward"`
		Side     string `toml:"side"`
	}
	fileAsk struct {
		Question string       `toml:"question"`
		Answers  []fileAnswer `toml:"answers"`
	}
	fileAnswer struct {
		Text string `toml:"text"`
		When string `toml:"when"`
	}
	fileHint struct {
		Body   string `toml:"body"`
		Step   string `toml:"step"`
		Cell   string `toml:"cell"`
		Ask    string `toml:"ask"`
		Recall string `toml:"recall"`
	}
	fileSlip struct {
		Code    string `toml:"code"`
		Body    string `toml:"body"`
		Step    string `toml:"step"`
		Cell    string `toml:"cell"`
		Pivot   string `toml:"pivot"`
		Line    string `toml:"line"`
		Message string `toml:"message"`
		Hint    string `toml:"hint"`
	}
	fileDrawn struct {
		Draw   string `toml:"draw"`
		From   string `toml:"from"`
		To     string `toml:"to"`
		At     string `toml:"at"`
		Label  string `toml:"label"`
		Radius string `toml:"radius"`
		Width  string `toml:"width"`
		Height string `toml:"height"`
		Angle  string `toml:"angle"`
		Span   string `toml:"span"`
		Rough  bool   `toml:"rough"`
	}
)
