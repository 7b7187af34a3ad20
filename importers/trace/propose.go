package trace

import "boardrun/importers/linework"

// Propose guesses a mapping.
func Propose(d *linework.Drawing) Mapping {
	var m Mapping
	for _, l := range d.Layers {
		if r := wordRole(l.Name); r != Background {
			m.Layers = append(m.Layers, LayerUse{Pattern: l.Name, Role: r})
		}
	}
	return m
}
