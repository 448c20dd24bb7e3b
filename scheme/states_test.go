package scheme_test

import "testing"

func TestSiteAndAims(t *testing.T) {
	runCases(t, []mistakeCase{
		{"hot air", "ambient: 35 °C",
			"ambient: 101 °C",
			"4:12: ambient cannot be 101 °C | write the temperature of the air, from −60 °C to 100 °C"},
		{"cold air", `coldest: -10 °C
  exp`,
			`coldest: -61 °C
  exp`,
			"5:12: coldest cannot be −61 °C | write the temperature of the air, from −60 °C to 100 °C"},
		{"the wrong way round", `coldest: -10 °C
  exp`,
			`coldest: 36 °C
  exp`,
			"5:12: coldest (36 °C) is above ambient (35 °C) | ambient is the hottest air, coldest the coldest"},
		{"warmer than an ambient that is not given", "site:\n  ambient: 35 °C          # the hottest air around cables and boards; `coldest: -10 °C` for the other end\n  coldest: -10 °C",
			`site:
  coldest: 31 °C`,
			"4:12: coldest (31 °C) is above ambient, which is 30 °C where it is not given | ambient is the hottest air, coldest the coldest"},
		{"no mains", "mains: 230 V",
			"mains: 0 V",
			"8:10: mains cannot be 0 V | write the voltage of the socket, such as 230 V"},
		{"a negative tariff", "tariff: 0.27",
			"tariff: -0.27",
			"9:11: the tariff cannot be below 0 | write what a kilowatt hour costs, such as 0.27 EUR/kWh"},
		{"no cap", "cap: 80 %",
			"cap: 0 %",
			"13:8: cap cannot be 0 % | write more than 0 % and at most 100 %"},
		{"too high a cap", "cap: 80 %",
			"cap: 101 %",
			"13:8: cap cannot be 101 % | write more than 0 % and at most 100 %"},
		{"too even", "evenness: 85 %",
			"evenness: 100.1 %",
			"14:13: evenness cannot be 100.1 % | write more than 0 % and at most 100 %"},
		{"no frame rate", "frame_rate: 50 Hz",
			"frame_rate: 0 Hz",
			"12:15: frame_rate cannot be 0 Hz | write a rate above 0, such as 50 Hz"},
		{"no colour shift", "colour_shift: 0.004",
			"colour_shift: 0",
			"15:17: colour_shift cannot be 0 | write a difference of u′v′ above 0 and below 1, such as 0.004"},
		{"all colour shift", "colour_shift: 0.004",
			"colour_shift: 1",
			"15:17: colour_shift cannot be 1 | write a difference of u′v′ above 0 and below 1, such as 0.004"},
	})
}

func TestSupplies(t *testing.T) {
	runCases(t, []mistakeCase{
		{"trimmed too high", "supply/5v-300w}",
			"supply/5v-300w, volts: 5.6 V}",
			"17:37: T1 cannot be set to 5.6 V: supply/5v-300w allows 4.5 V to 5.5 V | write a voltage in that range, or choose another supply"},
		{"trimmed too low", "supply/5v-300w}",
			"supply/5v-300w, volts: 4 V}",
			"17:37: T1 cannot be set to 4 V: supply/5v-300w allows 4.5 V to 5.5 V | write a voltage in that range, or choose another supply"},
		{"no voltage, though the part gives no range", "supply/5v-300w}",
			"supply/5v-fixed, volts: 0 V}",
			"17:38: T1 cannot be set to 0 V | write a voltage above 0 V and up to 120 V, where extra-low voltage ends"},
		{"no extra-low voltage", "supply/5v-300w}",
			"supply/5v-fixed, volts: 230 V}",
			"17:38: T1 cannot be set to 230 V | write a voltage above 0 V and up to 120 V, where extra-low voltage ends"},
	})
}

func TestStatesAndHours(t *testing.T) {
	runCases(t, []mistakeCase{
		{"the state dark", "dusk: {level: 35 %",
			"dark: {level: 35 %",
			"43:3: the state dark is always there: energised, every channel off | remove it, or give it another name"},
		{"a name that Farend uses", "dusk: {level: 35 %",
			"peak-dusk: {level: 35 %",
			"43:3: peak-dusk is the name of a case that Farend makes itself | give the state another name"},
		{"a name with a blank", "dusk: {level: 35 %",
			"at dusk: {level: 35 %",
			`43:3: "at dusk" is not the name of a state | write letters A to Z, digits, - and _, with a letter first, such as full`},
		{"too bright", "level: 35 %",
			"level: 135 %",
			"43:17: level cannot be 135 % | write 0 % to 100 %"},
		{"darker than dark", "{E2: {level: 20 %}}",
			"{E2: {level: -20 %}}",
			"43:61: level cannot be −20 % | write 0 % to 100 %"},
		{"no such run", "{E2: {level: 20 %}}",
			"{E5: {level: 20 %}}",
			`43:49: there is no run "E5" | there are E1 and E2`},
		{"a board that is lit", "{E2: {level: 20 %}}",
			"{A1: {level: 20 %}}",
			"43:49: A1 is a board, not a run | there are E1 and E2"},
		{"a colour out of quotes", `dusk: {level: 35 %, colour: "#ffb060", runs: {E2: {level: 20 %}}}`,
			`dusk:
    colour: #ffb060`,
			`44:12: a colour is missing here | write a word such as white, or put the colour in quotes: "#ffb060"`},
		{"three digits", `"#ffb060"`,
			`"#fb6"`,
			`43:31: "#fb6" is not a colour: it has three digits | write all six: "#ffbb66"`},
		{"not hexadecimal", `"#ffb060"`,
			`"#ffb06g"`,
			`43:31: "#ffb06g" is not a colour | write # and six digits 0 to 9 and a to f, two each for red, green and blue: "#ffb060"`},
		{"a misspelt word", "colour: white",
			"colour: whit",
			`42:32: "whit" is not a colour | did you mean white?`},
		{"no colour", "colour: white",
			"colour: mauve",
			`42:32: "mauve" is not a colour | write one of white, all, dark, red, green, blue, warm, cold, amber, or six digits such as "#ffb060"`},
		{"a list for a colour", "colour: white",
			"colour: [1, 2, 3]",
			`42:32: "colour" needs one value, not a list | write for example white`},
		{"red on tunable white, in both places", "E2: {tape: tape/5v-rgb-60, pixels: 288, label: east handrail}",
			"E2: {tape: tape/24v-tunable-10, pixels: 288}",
			"43:31: E2 (tape/24v-tunable-10) cannot show #ffb060: there is no red channel, only warm and cold | write all, or a colour made of the channels there are"},
		{"amber on two runs is said once", "colour: white",
			"colour: amber",
			"42:32: E1 and E2 (tape/5v-rgb-60) cannot show amber: there is no amber channel, only red, green and blue | write all, or a colour made of the channels there are"},
		{"red for one run only", "runs: {E2: {level: 20 %}}",
			"runs: {E2: {colour: warm}}",
			"43:62: E2 (tape/5v-rgb-60) cannot show warm: there is no warm channel, only red, green and blue | write all, or a colour made of the channels there are"},
		{"white on amber where no colour is given", "",
			`farend: 1
runs: {E9: {tape: tape/24v-amber-10, pixels: 288}}
states: {full: {level: 100 %}}`,
			"3:10: E9 (tape/24v-amber-10) cannot show white, the colour of a state that names none: there is no red channel, only amber | write all, or a colour made of the channels there are"},
		{"hours of no state", "dusk: 5 h/day",
			"dawn: 5 h/day",
			`45:3: there is no state "dawn" | there are dusk and full`},
		{"hours of dark", "dusk: 5 h/day",
			"dark: 5 h/day",
			"45:3: dark has no hours of its own | leave it out: the hours of no other state are dark"},
		{"negative hours", "dusk: 5 h/day",
			"dusk: -5 h/day",
			"45:9: dusk cannot be shown −5 h/day | write 0 to 24 h/day"},
		{"too many hours", "dusk: 5 h/day",
			"dusk: 25 h/day",
			"45:9: dusk cannot be shown 25 h/day | write 0 to 24 h/day"},
		{"too many hours together", "dusk: 5 h/day",
			`dusk: 15 h/day
  full: 10 h/day`,
			"44:1: the states are shown 25 h/day together | a day has 24 hours; the hours left over are dark"},
		{"a level in place of a map", "",
			`farend: 1
states: {full: 100 %}
`,
			`2:16: "full" needs a map of keys, not "100 %" | write for example {level: 35 %}`},
		{"states as a list", "",
			`farend: 1
states: [full]
duty: {full: 5 h/day}
`,
			`2:9: "states" needs a map of keys, not a list | write for example {NAME: {level: 35 %}}`},
	})
}

func TestDrawing(t *testing.T) {
	runCases(t, []mistakeCase{
		{"of nothing there", "A1: [-0.5, 0.7]",
			"A9: [-0.5, 0.7]",
			"49:3: there is no A9 to draw | there are A1, D1, D2, E1, E2, T1, W1, W2 and 5 more"},
		{"three numbers", "A1: [-0.5, 0.7]",
			"A1: [-0.5, 0.7, 1]",
			"49:7: this is neither a point nor a line | write a point as [x, y] or a line as [[x, y], [x, y]], in metres"},
		{"points of one number", "A1: [-0.5, 0.7]",
			"A1: [[-0.5], [0.7]]",
			"49:7: a point of a line needs two numbers | write a point as [x, y] or a line as [[x, y], [x, y]], in metres"},
		{"infinite", "A1: [-0.5, 0.7]",
			"A1: [.inf, 0.7]",
			`49:8: item 1 of "A1" needs a plain number, not ".inf" | write for example 0.5`},
		{"very far", "A1: [-0.5, 0.7]",
			"A1: [1e300, 0.7]",
			"49:7: A1 is drawn more than 100 km from the origin | write metres"},
		{"a word", "A1: [-0.5, 0.7]",
			"A1: here",
			"49:7: a drawing needs a point or a line here | write a point as [x, y] or a line as [[x, y], [x, y]], in metres"},
	})
}
