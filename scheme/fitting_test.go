package scheme_test

import (
	"strings"
	"testing"

	"farend/scheme"
)

func TestConnectorsAndBuffers(t *testing.T) {
	runCases(t, []mistakeCase{
		{"no such connector", "to: E1@start}",
			"to: E1@start, ends: {to: connector/pluggable-5.8mm}}",
			`25:84: there is no connector "connector/pluggable-5.8mm" | did you mean connector/pluggable-5.08mm?`},
		{"a junction for a connector", "to: E1@start}",
			"to: E1@start, ends: {from: junction/lever-3}}",
			"25:86: junction/lever-3 is a junction, not a connector | there are …"},
		{"an end that there is not", "to: E1@start}",
			"to: E1@start, ends: {start: connector/soldered}}",
			`25:80: "start" is not a key here | write one of from, to`},
		{"one connector for both", "to: E1@start}",
			"to: E1@start, ends: connector/soldered}",
			`25:79: "ends" needs a map of keys, not "connector/soldered" | write for example {from: connector/pluggable-5.08mm}`},
		{"a buffer that says not where", "from: A1.P1, to: E1}",
			"from: A1.P1, to: E1, buffer: {part: buffer/ahct-5v}}",
			`39:76: "buffer" lacks the key "at" | write for example at: from`},
		{"a buffer in the middle", "from: A1.P1, to: E1}",
			"from: A1.P1, to: E1, buffer: {part: buffer/ahct-5v, at: middle}}",
			`39:103: "at" cannot be "middle" | write one of from, to`},
		{"a relay for a buffer", "from: A1.P1, to: E1}",
			"from: A1.P1, to: E1, buffer: {part: relay/load-16A, at: to}}",
			"39:83: relay/load-16A is a relay, not a buffer | there are …"},
	})
}

func TestContactors(t *testing.T) {
	const fuses = "fuses:\n  A1.1"
	contactor := func(text string) string { return "contactors: {" + text + "}\n" + fuses }
	runCases(t, []mistakeCase{
		{"in no cable", fuses, contactor("Q1: {part: choose}"),
			`31:18: "Q1" lacks the key "in" | write for example in: W1`},
		{"in a cable that is not there", fuses, contactor("Q1: {part: choose, in: W9}"),
			`31:37: there is no cable "W9" | there are W1, W2, W3, W4, W5, W6 and W7`},
		{"in a cable that is misspelt", fuses, contactor("Q1: {part: choose, in: w1}"),
			`31:37: there is no cable "w1" | did you mean W1?`},
		{"in a supply", fuses, contactor("Q1: {part: choose, in: T1}"),
			`31:37: Q1 switches a cable, and T1 is a supply | there are W1, W2, W3, W4, W5, W6 and W7`},
		{"in a data lead", fuses, contactor("Q1: {part: choose, in: D1}"),
			`31:37: Q1 switches a cable, and D1 is a data lead | there are W1, W2, W3, W4, W5, W6 and W7`},
		{"two in one cable", fuses, contactor("Q2: {part: choose, in: W1}, Q1: {part: choose, in: W1}"),
			"31:65: W1 has the contactor Q2 already, in line 31 | let Q1 switch another cable, or remove it"},
		{"in a return", "cables:\n  W1: {part: cable/flex-2x6,   length: 0.6 m, from: T1,   to: A1.in, fuse: fuse/inline-30A, fuse_at: from}",
			"contactors: {Q1: {part: choose, in: W1}}\ncables:\n  W1: {part: cable/flex-2x6, length: 0.6 m, from: T1, to: A1.in, pole: return}",
			"23:37: W1 carries only the return; a contactor there would leave the load live when it opens | put it in a cable with the positive"},
		{"a cable that ends on a contactor", "cables:\n  W1: {part: cable/flex-2x6,   length: 0.6 m, from: T1,",
			"contactors: {Q1: {part: choose, in: W2}}\ncables:\n  W1: {part: cable/flex-2x6, length: 0.6 m, from: Q1,",
			"25:51: Q1 is a contactor, given in line 23; nothing can end on it | put a junction where cables meet"},
		{"a fuse for a relay", fuses, contactor("Q1: {part: fuse/inline-30A, in: W1}"),
			"31:25: fuse/inline-30A is a fuse, not a relay | there are …"},
		{"the name of a cable", fuses, contactor("W1: {part: choose, in: W2}"),
			"31:14: W1 is the name of a cable already, given in line 24 | give the contactor a name of its own"},
	})
}

func TestCapacitors(t *testing.T) {
	const fuses = "fuses:\n  A1.1"
	at := func(place string) string { return "capacitors: {C1: {part: choose, at: " + place + "}}\n" + fuses }
	const line = "31:37: C1 cannot be at "
	const across = ": a capacitor is across the rails of a run | "
	runCases(t, []mistakeCase{
		{"at a supply", fuses, at("T1"), line + "T1" + across + "write a station such as E1@start"},
		{"at an inlet", fuses, at("A1.in"), line + "A1.in" + across + "write a station such as E1@start"},
		{"at a way", fuses, at("A1.1"), line + "A1.1" + across + "write a station such as E1@start"},
		{"somewhere on a run", fuses, at("E1"), line + "E1" + across + "write E1@start, E1@end, E1@px120 or E1@2.5m"},
		{"beyond the end", fuses, at("E1@px999"), "31:37: E1@px999 is beyond the end of E1, which has 288 pixels (4.8 m) | write a station up to E1@end"},
		{"on a run that is not there", fuses, at("E9@start"), "31:37: there is no E9 in this scheme | did you mean E1@start?"},
		{"at a cable", fuses, at("W1"), "31:37: W1 is a cable, given in line 24; nothing can end on it | put a junction where cables meet"},
	})
}

func TestEnclosures(t *testing.T) {
	const fuses = "fuses:\n  A1.1"
	holding := func(text string) string { return "enclosures: {" + text + "}\n" + fuses }
	runCases(t, []mistakeCase{
		{"something unknown", fuses, holding("B1: {part: choose, holds: [T1, A2]}"),
			"31:45: there is no A2 in this scheme | there are T1 and A1"},
		{"something twice", fuses, holding("B1: {part: choose, holds: [T1, T1]}"),
			"31:45: T1 stands twice in B1 | remove one of the two"},
		{"what another holds", fuses, holding("B2: {part: choose, holds: [T1, A1]}, B1: {part: choose, holds: [A1]}"),
			"31:78: A1 is in B2 already, given in line 31 | let one of the two enclosures hold it"},
		{"a run", fuses, holding("B1: {part: choose, holds: [E1]}"),
			"31:41: E1 is a run; an enclosure holds supplies, boards, junctions and contactors | leave it out"},
		{"itself", fuses, holding("B1: {part: choose, holds: [B1]}"),
			"31:41: B1 is an enclosure; an enclosure holds supplies, boards, junctions and contactors | leave it out"},
		{"one thing without brackets", fuses, holding("B1: {part: choose, holds: T1}"),
			`31:40: "holds" needs a list, not "T1" | write it in square brackets, for example [T1, A1]`},
		{"in half a sun", fuses, holding("B1: {part: choose, sun: half}"),
			`31:38: "sun" needs yes or no, not "half" | write for example yes`},
		{"no box", fuses, holding("B1: {holds: [T1]}"),
			`31:18: "B1" lacks the key "part" | write for example part: enclosure/polycarbonate-280x380x130`},
	})
}

func TestSeparateRuns(t *testing.T) {
	const warm = "conductors: warm "
	apart := func(groups string) string { return "separate: " + groups + "\n  conductors: warm " }
	runCases(t, []mistakeCase{
		{"one alone", warm, apart("[[E1]]"), "10:14: one run alone is separate from nothing | name two runs or more that are separate from each other, such as [E1, E2]"},
		{"none", warm, apart("[[]]"), "10:14: one run alone is separate from nothing | name two runs or more that are separate from each other, such as [E1, E2]"},
		{"from itself", warm, apart("[[E1, E1]]"), "10:19: E1 stands twice in this group | remove one of the two"},
		{"from a run that is not there", warm, apart("[[E1, E9]]"), `10:19: there is no run "E9" | there are E1 and E2`},
		{"from a board", warm, apart("[[E1, A1]]"), "10:19: A1 is a board, not a run | there are E1 and E2"},
		{"said twice", warm, apart("[[E1, E2], [E2, E1]]"), "10:29: E2 and E1 are said to be separate already | remove one of the two groups"},
		{"not in groups", warm, apart("[E1, E2]"), `10:14: item 1 of "separate" needs a list, not "E1" | write it in square brackets, for example [E1, E2]
10:18: item 2 of "separate" needs a list, not "E2" | write it in square brackets, for example [E1, E2]`},
	})
}

func TestAddressesOfBoards(t *testing.T) {
	for _, c := range []struct {
		written, read string // read is "" where it is refused
	}{
		{"192.168.1.20", "192.168.1.20"}, {"10.0.0.1", "10.0.0.1"}, {`"fe80::1"`, "fe80::1"}, {"2001:db8::20", "2001:db8::20"}, {`"::1"`, "::1"},
		{"fe80::1%eth0", "fe80::1%eth0"}, {"north-board", "north-board"}, {"north-board.local", "north-board.local"}, {"a1", "a1"}, {"1a.b2", "1a.b2"}, {"7-8", "7-8"},
		{"192.168.1.300", ""}, {"192.168.1", ""}, {"192.168.1.20:80", ""}, {"192.168.001.20", ""}, {"1::2::3", ""}, {"north board", ""}, {"north_board", ""}, {"-a", ""}, {"a-", ""}, {"a..b", ""}, {"12", ""}, {"1e3", ""}, {"true", ""},
		{`""`, ""}, {"http://north-board/", ""}, {"0.0.0.0", ""}, {`"::"`, ""}, {"255.255.255.255", ""}, {"239.255.0.1", ""}, {"ff02::1", ""}, {strings.Repeat("a", 64), ""}, {strings.Repeat("a.", 127) + "a", ""}, {"nord-büro", ""},
	} {
		s, mistakes := scheme.Read("a", []byte("farend: 1\nboards: {A1: {part: choose, address: "+c.written+"}}\n"), library(t))
		switch {
		case c.read == "" && (len(mistakes) != 1 || mistakes[0].Pos.Column != 38 || !strings.Contains(mistakes[0].Hint, "192.168.1.20")):
			t.Errorf("%s: %v", c.written, mistakes)
		case c.read != "" && (len(mistakes) > 0 || string(s.Boards["A1"].Address) != c.read):
			t.Errorf("%s is read as %+v, %v", c.written, s, mistakes)
		}
	}
}

func TestShapesOfThings(t *testing.T) {
	const drawing = "  A1: [-0.5, 0.7]\n"
	runCases(t, []mistakeCase{
		{"a board as a line", drawing, "  A1: [[-0.5, 0.7], [0, 0]]\n",
			"49:7: A1 is a board, and is drawn as a line | write the point where it is, such as [-0.5, 0.7], in metres"},
		{"a run as a point", "  E1: [[0, 0], [4.8, 0]]", "  E1: [0, 0]",
			"47:7: E1 is a run, and is drawn as a point | write the line it takes, such as [[0, 0], [4.8, 0]], in metres"},
		{"a line of one point", "  E1: [[0, 0], [4.8, 0]]", "  E1: [[0, 0]]",
			"47:7: E1 is a run, and is drawn as a point | write the line it takes, such as [[0, 0], [4.8, 0]], in metres"},
		{"a line that goes nowhere", "  E1: [[0, 0], [4.8, 0]]", "  E1: [[1, 1], [1, 1], [1, 1]]",
			"47:7: E1 is drawn as a line without length | let its points lie apart, in metres"},
		{"three numbers", drawing, "  A1: [-0.5, 0.7, 3]\n",
			"49:7: this is neither a point nor a line | write a point as [x, y] or a line as [[x, y], [x, y]], in metres"},
		{"a unit", drawing, "  A1: [-0.5 m, 0.7]\n",
			`49:8: item 1 of "A1" needs a plain number, not "-0.5 m" | write for example 0.5`},
		{"an unbounded number", drawing, "  A1: [-.inf, .NaN]\n",
			`49:8: item 1 of "A1" needs a plain number, not "-.inf" | write for example 0.5
49:15: item 2 of "A1" needs a plain number, not ".NaN" | write for example 0.5`},
		{"millimetres", "  E1: [[0, 0], [4.8, 0]]", "  E1: [[0, 0], [480000, 0]]",
			"47:7: E1 is drawn more than 100 km from the origin | write metres"},
		{"a number that is too large", drawing, "  A1: [1e308, 1e309]\n",
			`49:7: A1 is drawn more than 100 km from the origin | write metres
49:15: item 2 of "A1" needs a plain number, not "1e309" | write for example 0.5`},
	})
}

// A lead takes its length from its line as cables and runs do; a closed line ends where it begins.
func TestLengthsFromTheDrawing(t *testing.T) {
	s := read(t, everything(t))
	for id, want := range map[string]float64{"W3": 0.860233, "D3": 1.5} { // √(0.5² + 0.7²); from −1.5 to 0
		var got float64
		if c, ok := s.Cables[id]; ok {
			got = float64(*c.Length)
		} else {
			got = float64(*s.Data[id].Length)
		}
		if got < want-1e-6 || got > want+1e-6 {
			t.Errorf("%s is %v m long, want %v m", id, got, want)
		}
	}
	if got := s.Runs["E3"].Count; got != 90 { // 2 × (0.5 m + 0.25 m) at 60 /m
		t.Errorf("E3 has %d pixels, want 90", got)
	}
	drawn := 0
	for _, note := range s.Notes {
		if note.Rule == "scheme/drawn-length" {
			drawn++
		}
	}
	if drawn != 3 {
		t.Errorf("%d notes of lengths taken from the drawing, want 3", drawn)
	}
	without := strings.Replace(everything(t), "  D3: [[0, 3], [-1.5, 3]]\n", "", 1)
	if _, mistakes := scheme.Read("a", []byte(without), library(t)); told(mistakes) != "40:3: D3 has no length | write length: 2.5 m, or draw it as a line under drawing" {
		t.Errorf("without its line: %s", told(mistakes))
	}
}

// One wrong name may stand in many places; it is said where it stands first.
func TestBoardsThatStandElsewhere(t *testing.T) {
	runCases(t, []mistakeCase{
		{"an enclosure in the place of a board", "boards:\n  A1: {part: board/six-way-three-port}  # `fuses` below\n", "enclosures:\n  A1: {part: enclosure/steel-400x500x200}\n",
			"24:63: A1 is an enclosure, given in line 19; there is no \"A1.in\" on it | name a board, described under boards"},
		{"a board under enclosures", "boards:\n  A1: {part: board/six-way-three-port}  # `fuses` below\n", "enclosures:\n  A1: {part: board/six-way-three-port}\n",
			"19:14: board/six-way-three-port is a board, not an enclosure | describe A1 under boards, or give it a part that is an enclosure"},
	})
}

func TestAFuseLinkInACableIsNoted(t *testing.T) {
	for _, c := range []struct{ name, cable, want string }{
		{"a blade link", "fuse: fuse/blade-30A", "scheme/fuse-holder:W1.fuse: fuse/blade-30A is a blade link, and nothing says what holds it in W1: its holder is not judged; fuse/inline-30A brings one along"},
		{"a mini link, of which none has a holder along", "fuse: fuse/mini-4A", "scheme/fuse-holder:W1.fuse: fuse/mini-4A is a mini link, and nothing says what holds it in W1: its holder is not judged"},
		{"with its holder", "fuse: fuse/inline-30A", ""},
		{"a resettable one, which is soldered", "fuse: fuse/ptc-5A", ""},
		{"at a connector", "fuse: fuse/blade-30A, ends: {from: connector/holder-inline-blade}", ""},
	} {
		s, mistakes := scheme.Read("a.scheme.yaml", []byte(strings.Replace(footbridge(t), "fuse: fuse/inline-30A", c.cable, 1)), nil)
		if len(mistakes) > 0 {
			t.Fatal(c.name, mistakes)
		}
		var got []string
		for _, note := range s.Notes {
			if strings.HasPrefix(note.ID, "scheme/fuse-holder") {
				got = append(got, note.ID+": "+note.Text)
			}
		}
		if strings.Join(got, "\n") != c.want {
			t.Errorf("%s: noted %q, want %q", c.name, got, c.want)
		}
	}
}
