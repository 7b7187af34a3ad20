package trace

import (
	"fmt"
	"strings"
	"unicode"
)

// roomNouns are words a room's name holds, in the languages of the layer
// words. Source: common practice and dictionary words, none published.
var roomNouns = []string{"room", "office", "lobby", "corridor", "hall", "kitchen", "bath", "bed", "toilet", "storage", "store", "closet", "stair", "elev", "exam",
	"treatment", "ward", "surgery", "reception", "waiting", "meeting", "conference", "lab", "mech", "elec", "janitor", "vestibule", "entry", "living", "dining",
	"garage", "pantry", "laundry", "patio", "staff", "break", "server", "archive", "reading", "study", "büro", "buero", "flur", "küche", "kueche", "bad", "wc",
	"zimmer", "lager", "diele", "raum", "oficina", "cocina", "baño", "sala", "dormitorio", "pasillo", "almac", "ufficio", "cucina", "bagno", "camera", "corridoio",
	"bureau", "cuisine", "chambre", "couloir", "salle", "кухня", "комната", "коридор", "санузел", "кабинет"}

// roomLike reports whether writing reads like a room's name: few words, one of
// them a room's noun or, of the longer nouns, a compound that begins or ends
// with it.
func roomLike(s string) bool {
	toks := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) })
	if len(toks) == 0 || len(toks) > 6 || len(s) > 60 {
		return false
	}
	for _, k := range toks {
		for _, w := range roomNouns {
			if k == w || k == w+"s" || len(w) >= 5 && (strings.HasPrefix(k, w) || strings.HasSuffix(k, w)) {
				return true
			}
		}
	}
	return false
}

// proposeRooms takes the layer with the most room names as the rooms', where
// no layer's name says so.
func proposeRooms(ev []evidence, m *Mapping) {
	best := -1
	for i := range ev {
		if m.Layers[i].Role == RoomText && ev[i].texts > 0 {
			return
		}
		if m.Layers[i].Role == Background && ev[i].rooms >= 2 && (best < 0 || ev[i].rooms > ev[best].rooms) {
			best = i
		}
	}
	if best >= 0 {
		m.Layers[best].Role = RoomText
		m.Layers[best].Why = fmt.Sprintf("%d of its %d writings are names of rooms", ev[best].rooms, ev[best].texts)
	}
}
