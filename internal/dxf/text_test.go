package dxf

import "testing"

// Oracle: DXF Reference and the code pages' own tables, by hand.
func TestDecoder(t *testing.T) {
	for _, c := range []struct {
		name, page, version string
		mark                bool
		in, want            string
		known               bool
	}{
		{"ASCII", "ANSI_1252", "AC1015", false, "A-WALL", "A-WALL", true},
		{"western", "ANSI_1252", "AC1015", false, "T\xfcr \xbd", "Tür ½", true},
		{"none named", "", "AC1009", false, "T\xfcr", "Tür", true},
		{"lower case name", "ansi_1251", "AC1015", false, "\xd1\xf2\xe5\xed\xe0", "Стена", true},
		{"greek", "ANSI_1253", "AC1015", false, "\xd4\xef\xdf\xf7\xef\xf2", "Τοίχος", true},
		{"japanese", "ANSI_932", "AC1015", false, "\x95\xc7", "壁", true},
		{"chinese", "ANSI_936", "AC1015", false, "\xc7\xbd", "墙", true},
		{"korean", "ANSI_949", "AC1015", false, "\xba\xae", "벽", true},
		{"traditional chinese", "ANSI_950", "AC1015", false, "\xc0\xf0", "牆", true},
		{"thai", "ANSI_874", "AC1015", false, "\xa1", "ก", true},
		{"DOS", "dos850", "AC1009", false, "T\x81r", "Tür", true},
		{"Macintosh", "MAC-ROMAN", "AC1015", false, "T\x9fr", "Tür", true},
		{"2007 is UTF-8", "ANSI_1252", "AC1021", false, "Tür ½", "Tür ½", true},
		{"2007 with bytes that are not", "ANSI_1252", "AC1021", false, "T\xfcr", "Tür", true},
		{"mark says Unicode", "ANSI_1252", "AC1009", true, "Tür", "Tür", true},
		{"named UTF-8", "UTF-8", "AC1015", false, "Tür", "Tür", true},
		{"Johab is not known", "ANSI_1361", "AC1015", false, "abc", "abc", false},
		{"unknown", "KOI-7", "AC1015", false, "T\xfcr", "Tür", false},
		{`\U+`, "ANSI_1252", "AC1015", false, `5\U+2033 \U+00D8`, "5″ Ø", true},
		{`\U+ surrogates`, "ANSI_1252", "AC1015", false, `\U+D83D\U+DEAA`, "🚪", true},
		{`\U+ not hex`, "ANSI_1252", "AC1015", false, `\U+20G3 \U+12`, `\U+20G3 \U+12`, true},
		{`\M+`, "ANSI_1252", "AC1015", false, `\M+195C7`, "壁", true},
		{`\M+ one byte`, "ANSI_1252", "AC1015", false, `\M+10041`, "A", true},
		{`\M+ Johab stays`, "ANSI_1252", "AC1015", false, `\M+4BAAE`, `\M+4BAAE`, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, known := NewDecoder(c.page, c.version, c.mark)
			if got := d.String([]byte(c.in)); got != c.want || known != c.known {
				t.Errorf("got %q %v, want %q %v", got, known, c.want, c.known)
			}
		})
	}
}

func TestPlainText(t *testing.T) {
	for in, want := range map[string]string{
		"plain":      "plain",
		"45%%d":      "45°",
		"%%c60 %%P2": "Ø60 ±2",
		"50%%%":      "50%",
		"%%uROOM%%u": "ROOM",
		"%%o%%k":     "",
		"%%065%%189": "A½",
		"%%5":        "%%5",
		"100%":       "100%",
		"end%%":      "end%%",
		"a^Ib^Jc^Md": "a\tb\ncd",
		"x^ y":       "x^y",
		"2^3":        "2^3",
		"^":          "^",
		`C:\path`:    `C:\path`,
		`12'-3 1/2"`: `12'-3 1/2"`,
	} {
		if got := PlainText(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestPlainMText(t *testing.T) {
	for in, want := range map[string]string{
		"plain":                                "plain",
		`ROOM 101\POFFICE`:                     "ROOM 101\nOFFICE",
		`{\fArial|b0|i0|c0|p34;OFFICE}`:        "OFFICE",
		`\A1;12'-3\S1/2;"`:                     `12'-3 1/2"`,
		`\A1;12'-3\H0.7x;\S1#2;"`:              `12'-3 1/2"`,
		`\S1/2; in`:                            "1/2 in",
		`\S+0.1^ -0.2;`:                        "+0.1 -0.2",
		`\S1^ 2;`:                              "1/2",
		`a\~b`:                                 "a b",
		`\\server\{x\}`:                        `\server{x}`,
		`\LUNDER\l \OOVER\o \Kx\k`:             "UNDER OVER x",
		`\C1;red\c255; \W0.8;\T1.1;\Q15;\H2x;`: "red ",
		`\pxi-3,l4,t4;1.\tItem`:                `1.\tItem`,
		"%%d %%c":                              "° Ø",
		`\`:                                    `\`,
		`\H2x`:                                 "",
		`{{a}b}`:                               "ab",
		`a^Jb`:                                 "a\nb",
		`\S1/2`:                                "1/2",
		`\Nnext\Xbelow`:                        "\nnext\nbelow",
	} {
		if got := PlainMText(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}
