// The smallest program on the screen library: what the tutor's first frame is
// measured against.
package main

import tea "github.com/charmbracelet/bubbletea"

type model struct{}

func (model) Init() tea.Cmd                         { return nil }
func (m model) Update(tea.Msg) (tea.Model, tea.Cmd) { return m, nil }
func (model) View() string                          { return "Which problem" }

func main() {
	if _, err := tea.NewProgram(model{}, tea.WithAltScreen()).Run(); err != nil {
		panic(err)
	}
}
