package problems

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// optional are the template's parts that may be left out, as they are with the
// "#" of each line taken away, and the template without them.
func optional() (parts []string, whole []string) {
	open := false
	for line := range strings.Lines(string(template)) {
		code := strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "# ") && line != "#\n"
		switch {
		case code && !open:
			parts, whole = append(parts, line[1:]), append(whole, fmt.Sprintf("\x00%d", len(parts)))
		case code:
			parts[len(parts)-1] += line[1:]
		default:
			whole = append(whole, line)
		}
		open = code
	}
	return parts, whole
}

// with is the template with some of its optional parts put in.
func with(parts, whole []string, in func(i int) bool) []byte {
	text := strings.Join(whole, "")
	for i := len(parts) - 1; i >= 0; i-- {
		put := ""
		if in(i) {
			put = parts[i]
		}
		text = strings.Replace(text, fmt.Sprintf("\x00%d", i), put, 1)
	}
	return []byte(text)
}

// The template is a scenario as it stands, with each of its optional parts, and
// with all of them; what is drawn from it meets the physics.
func TestTemplate(t *testing.T) {
	parts, whole := optional()
	if len(parts) < 12 {
		t.Fatalf("only %d optional parts", len(parts))
	}
	tried := map[string]func(int) bool{
		"as it stands": func(int) bool { return false }, "with every part": func(int) bool { return true },
	}
	for i := range parts {
		name, _, _ := strings.Cut(parts[i][strings.Index(parts[i], "= ")+2:], "\n")
		tried["with "+name] = func(k int) bool { return k == i }
	}
	for name, in := range tried {
		s, err := Read("template.toml", with(parts, whole, in))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if v := s.Survey(300); v.Usable == 0 || len(v.Broken) > 0 {
			t.Errorf("%s: of %d draws %d are usable, and these break: %+v", name, v.Tried, v.Usable, v.Broken)
		}
	}
}

// The template shows every key there is.
func TestTemplateShowsEveryKey(t *testing.T) {
	parts, whole := optional()
	shown := locate(with(parts, whole, func(int) bool { return true }))
	have := map[string]bool{}
	for path := range shown.found {
		var keys []string
		for _, part := range strings.Split(path, ".") {
			if strings.Trim(part, "0123456789") != "" {
				keys = append(keys, part)
			}
		}
		have[strings.Join(keys, ".")] = true
	}
	for key := range knownKeys() {
		if !have[key] {
			t.Errorf("the template does not show the key %s", key)
		}
	}
}

func TestTemplateTakesAnID(t *testing.T) {
	data, err := Template("oar-rack")
	if err != nil || !bytes.Contains(data, []byte("id = \"oar-rack\"\n")) || bytes.Contains(data, []byte(templateID)) {
		t.Errorf("%v", err)
	}
	for _, id := range []string{"", "Oar", "../oar", "a b", "a\x1b"} {
		if _, err := Template(id); err == nil || strings.ContainsRune(err.Error(), '\x1b') {
			t.Errorf("%q: %v", id, err)
		}
	}
}

func compiled(t *testing.T) *jsonschema.Schema {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("scenario.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("scenario.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON is a scenario file as the schema sees it.
func asJSON(t *testing.T, data []byte) any {
	t.Helper()
	var doc map[string]any
	if err := toml.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every scenario there is keeps to the schema, and so does the template with
// all its parts.
func TestSchemaTakesScenarios(t *testing.T) {
	s := compiled(t)
	parts, whole := optional()
	files := map[string][]byte{"the template": with(parts, whole, func(int) bool { return true })}
	for _, pattern := range []string{"bank/*.toml", "testdata/*.toml"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			files[name] = data
		}
	}
	if len(files) < 15 {
		t.Fatalf("only %d files", len(files))
	}
	for name, data := range files {
		if err := s.Validate(asJSON(t, data)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The schema has the keys that the reader knows, and no other.
func TestSchemaHasTheKeys(t *testing.T) {
	var doc map[string]any
	if err := json.Unmarshal(Schema(), &doc); err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{}
	var walk func(prefix string, node map[string]any)
	walk = func(prefix string, node map[string]any) {
		if ref, ok := node["$ref"].(string); ok {
			node = doc["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
		}
		if items, ok := node["items"].(map[string]any); ok {
			walk(prefix, items)
		}
		if properties, ok := node["properties"].(map[string]any); ok {
			if node["additionalProperties"] != false {
				t.Errorf("%q takes keys that are not known", prefix)
			}
			for key, of := range properties {
				keys[join(prefix, key)] = true
				walk(join(prefix, key), of.(map[string]any))
			}
		}
	}
	walk("", doc)
	got, want := slices.Sorted(maps.Keys(keys)), slices.Sorted(maps.Keys(knownKeys()))
	if !slices.Equal(got, want) {
		for _, k := range got {
			if !knownKeys()[k] {
				t.Errorf("the schema has %s, which no scenario has", k)
			}
		}
		for _, k := range want {
			if !keys[k] {
				t.Errorf("the schema lacks %s", k)
			}
		}
	}
}

// Words that the reader knows from a list, the schema lists too.
func TestSchemaHasTheWords(t *testing.T) {
	listed := func(path ...string) []string {
		var doc map[string]any
		if err := json.Unmarshal(Schema(), &doc); err != nil {
			t.Fatal(err)
		}
		node := doc
		for _, key := range path {
			node = node["properties"].(map[string]any)[key].(map[string]any)
			if items, ok := node["items"].(map[string]any); ok {
				node = items
			}
		}
		var out []string
		for _, w := range node["enum"].([]any) {
			out = append(out, w.(string))
		}
		slices.Sort(out)
		return out
	}
	for _, c := range []struct {
		path []string
		want []string
	}{
		{[]string{"skills"}, Skills},
		{[]string{"bodies", "supports", "kind"}, slices.Collect(maps.Keys(bundles))},
		{[]string{"joints", "kind"}, slices.Collect(maps.Keys(bundles))},
		{[]string{"bodies", "forces", "kind"}, slices.Collect(maps.Keys(forceKinds))},
		{[]string{"hints", "step"}, hinted},
		{[]string{"slips", "step"}, slipSteps},
		{[]string{"figure", "draw"}, slices.Collect(maps.Keys(drawable))},
	} {
		if got, want := listed(c.path...), slices.Sorted(slices.Values(c.want)); !reflect.DeepEqual(got, want) {
			t.Errorf("%v: the schema has\n\t%v\nthe reader\n\t%v", c.path, got, want)
		}
	}
}

// The schema refuses what the reader refuses, where its form shows it.
func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	parts, whole := optional()
	sound := string(with(parts, whole, func(int) bool { return true }))
	for _, c := range [][2]string{
		{`id = "quay-gangway"`, `id = "Quay Gangway"`},
		{`title = "A walker on a gangway"`, ``},
		{`level = 2`, `level = 5`},
		{`level = 2`, `level = 1.5`},
		{`level = 2`, "level = 2\ncolour = \"red\""},
		{`skills = ["forces", `, `skills = ["juggling", `},
		{`"d > 0.6 L"`, `"d >= 0.6 L"`},
		{`value = 9.81`, `value = "9.81"`},
		{`value = 9.81`, ``},
		{`value = 9.81`, "value = 9.81\nfrom = 9"},
		{"from = 3\nto = 6\n", "from = 3\n"},
		{`symbol = "alpha"`, `symbol = "2 alpha"`},
		{`name = "D"`, `name = "walker"`},
		{`kind = "pin"`, `kind = "hinge"`},
		{`kind = "weight"`, `kind = "gravity"`},
		{`symbols = ["H", "V"]`, `symbols = "H"`},
		{`sense = "clockwise"`, `sense = "right"`},
		{`shape = "uniform"`, `shape = "lumpy"`},
		{`of = ["gangway", "bucket"]`, `of = ["gangway"]`},
		{`of = ["gangway", "bucket"]`, "of = [\"gangway\", \"bucket\"]\nforces = [{ symbol = \"W\", kind = \"weight\", at = \"A\" }]"},
		{`on = ["gangway", "bucket"]`, `on = ["gangway"]`},
		{`may_slip = true`, `may_slip = "yes"`},
		{`within = ["0", "2 b"]`, `within = ["0"]`},
		{`side = "above"`, `side = "left"`},
		{`when = "T > W_w"`, `when = "T W_w"`},
		{`step = "moment"`, `step = "moments"`},
		{`code = "third-for-half"`, `code = "Third!"`},
		{`line = "-W L/3"`, ``},
		{`draw = "person"`, `draw = "elephant"`},
		{`rough = false`, `rough = 0`},
		{`label = "alpha"`, `label = "alpha, which is a very long label"`},
	} {
		broken := strings.Replace(sound, c[0], c[1], 1)
		if broken == sound {
			t.Fatalf("the template has no %q", c[0])
		}
		if s.Validate(asJSON(t, []byte(broken))) == nil {
			t.Errorf("the schema takes %q", c[1])
		}
		if _, err := Read("", []byte(broken)); err == nil {
			t.Errorf("the reader takes %q", c[1])
		}
	}
}
