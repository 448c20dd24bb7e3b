package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
)

// sound is one part of every kind without a mistake, a key a line.
var sound = map[string]string{
	"tape/own": `
  title: own
  volts: 5 V
  volts_min: 4 V
  volts_max: 5.5 V
  pixels: 60 /m
  cut_every: 1
  rail: 100 mΩ/m
  rail_return: 90 mΩ/m
  rail_amps: 6 A
  joint_every: 0.5 m
  joint: 2 mΩ
  measure:
    rail: the volts lost over 1 m
    set: the current of ten pixels
  channels:
    red: {set: 12 mA, lo: 1.8 V, hi: 2.4 V, soft: 0.1 V, candela: 0.3 cd, x: 0.7, y: 0.3}
    white: {string: 150 Ω, lo: 4 V, soft: 0.2 V}
  idle: {set: 1 mA, lo: 1 V, hi: 2 V, soft: 0.1 V}
  logic: {supply: rail, high: 70 %, low: 0.7 V, over: 0.3 V, under: 0.3 V}
  ip: 67
  protocol: protocol/single-wire-800k-24`,
	"protocol/own": `
  title: own
  bits: 24
  depth: 8
  order: GRB
  period: 1.25 us
  period_min: 1.2 us
  period_max: 1.3 us
  zero: {high: {is: 300 ns, min: 220 ns, max: 380 ns}, low: {min: 580 ns}}
  one: {high: {min: 590 ns}}
  latch: 280 us
  inverted: yes
  start: 64
  end: {bits: 32, byte_every: 16, least: 40}
  refresh: 2 kHz
  backup: yes
  capacitance: 15 pF
  delay: 300 ns
  reach: 3 m`,
	"protocol/clocked": `
  title: own
  bits: 32
  depth: 8
  overhead: 8
  order: BGR
  clocked: yes
  clock_max: 10 MHz
  delay_clocks: 0.5`,
	"cable/own": `
  title: own
  cores: 2
  area: 1.5 mm²
  class: 5
  r20: 13.3 Ω/km
  insulation: 70 °C
  iz: {conduit: 15 A, surface: 16 A, free: 17 A}
  z0: 100 Ω
  delay: 5 ns/m
  capacitance: 60 pF/m
  inductance: 0.6 µH/m`,
	"fuse/own": `
  title: own
  rating: 5 A
  resistance: 18 mΩ
  resistance_hot: 26 mΩ
  curve: curve/iso8820-blade
  melting: 90 A²s
  tripped: 0.5 W
  volts_max: 32 V
  breaking: 1 kA
  holder: blade
  seat: connector/holder-inline-blade
  colour: tan`,
	"curve/own": `
  title: own
  gates:
    - {multiple: 1.1, min: 100 h}
    - {multiple: 1.35, min: 1 s, max: 600 s}
    - {multiple: 2, min: 0.1 s, max: 5 s}
  derating:
    - {at: -20 °C, factor: 120 %}
    - {at: 20 °C, factor: 100 %}
    - {at: 65 °C, factor: 85 %}`,
	"supply/own": `
  title: own
  volts: 5 V
  volts_min: 4.5 V
  volts_max: 5.5 V
  amps: 40 A
  watts: 200 W
  source_resistance: 1 mΩ
  limit: hiccup
  limit_at: {low: 44 A, high: 60 A}
  over_voltage: {low: 5.7 V, high: 6.7 V}
  ripple: 150 mV
  no_load: 1 W
  efficiency: 87 %
  inrush: 60 A
  hold_up: 16 ms
  derate_from: 50 °C
  derate: 2.5 %/K
  ambient_max: 70 °C
  parallel: forbidden`,
	"supply/pulsing": `
  title: own
  volts: 5 V
  amps: 40 A
  watts: 200 W
  source_resistance: 1 mΩ
  limit: hiccup
  limit_at: {low: 44 A, high: 60 A}
  pulse_on: 1 s
  pulse_off: 7 s
  pulse_below: 3 V`,
	"supply/folding": `
  title: own
  volts: 5 V
  amps: 40 A
  watts: 200 W
  source_resistance: 1 mΩ
  limit: boost
  limit_at: {low: 44 A, high: 60 A}
  boost: 150 %
  boost_for: 4 s
  then: fold-back
  fold_to: 25 %`,
	"board/own": `
  title: own
  volts_max: 28 V
  inlet: {amps: 30 A, resistance: 1 mΩ}
  ways:
    1: {amps: 10 A, resistance: 2 mΩ, holder: blade}
  ports:
    P1: {high: 4.6 V, low: 0.2 V, driver: 25 Ω, series: 47 Ω, rise: 5 ns, ground: 5 mΩ, ground_amps: 2 A, ground_fuse: fuse/ptc-0.75A}`,
	"junction/own": `
  title: own
  amps: 20 A
  resistance: 1 mΩ
  area_max: 4 mm²
  ways: 3`,
	"connector/own": `
  title: own
  amps: 12 A
  resistance: 2 mΩ
  volts_max: 320 V
  area_min: 0.2 mm²
  area_max: 2.5 mm²
  torque: 0.5 Nm`,
	"enclosure/own": `
  title: own
  ip: 65
  width: 300 mm
  height: 200 mm
  depth: 120 mm
  sheds: 3.5 W/m²K`,
	"relay/own": `
  title: own
  amps: 16 A
  volts_max: 250 V
  inrush: 80 A
  resistance: 5 mΩ
  coil_volts: 24 V
  coil_watts: 0.4 W`,
	"capacitor/own": `
  title: own
  capacitance: 1000 µF
  volts_max: 10 V
  resistance: 30 mΩ
  ripple: 1.5 A`,
	"buffer/own": `
  title: own
  volts: 5 V
  logic: {supply: 5 V, high: 2.0 V, low: 0.8 V, over: 0.5 V, under: 0.5 V}
  high: 4.4 V
  low: 0.2 V
  driver: 25 Ω
  series: 47 Ω
  rise: 8 ns
  delay: 11 ns`,
}

func read(text string) (parts.Set, finding.Mistakes) {
	var set parts.Set
	_, mistakes := document.Read("p", []byte(text), &set)
	return set, mistakes
}

func TestSoundPartsAreReadWithoutAMistake(t *testing.T) {
	kinds := map[string]bool{}
	for name, body := range sound {
		kinds[parts.Kind(name)] = true
		set, mistakes := read(name + ":" + body + "\n")
		if len(mistakes) > 0 || set[name] == nil {
			t.Errorf("%s: %v", name, mistakes)
		}
	}
	for _, kind := range parts.Kinds() {
		if !kinds[kind] {
			t.Errorf("no sound %s is here", kind)
		}
	}
}

// Each case replaces one piece of a sound part. The mistake must stand where the piece in at begins.
func TestWhatMakesNoSenseIsAMistakeInItsPlace(t *testing.T) {
	for _, c := range []struct{ part, old, replaced, at, want, hint string }{
		{"tape/own", "volts: 5 V\n  volts_min: 4 V", "volts: 0 V", "0 V", `"volts" must be more than 0, not 0 V`, ""},
		{"tape/own", "volts_min: 4 V", "volts_min: -4 V", "-4 V", `"volts_min" must be more than 0, not −4.00 V`, ""},
		{"tape/own", "volts_min: 4 V", "volts_min: 5.1 V", "5.1 V", `"volts_min" (5.10 V) cannot be above "volts" (5.00 V)`, ""},
		{"tape/own", "volts_max: 5.5 V", "volts_max: 4.9 V", "5 V", `"volts" (5.00 V) cannot be above "volts_max" (4.90 V)`, ""},
		{"tape/own", "60 /m", "-60 /m", "-60 /m", `"pixels" must be more than 0, not −60.0 /m`, ""},
		{"tape/own", "cut_every: 1", "cut_every: 0", "0\n", `"cut_every" must be at least 1, not 0`, ""},
		{"tape/own", "rail: 100 mΩ/m", "rail: 0 mΩ/m", "0 mΩ/m", `"rail" must be more than 0, not 0 Ω/m`, ""},
		{"tape/own", "90 mΩ/m", "{is: -90 mΩ/m}", "{is: -90", `"rail_return" must be more than 0, not −90.0 mΩ/m`, ""},
		{"tape/own", "rail_amps: 6 A", "rail_amps: 0 A", "0 A", `"rail_amps" must be more than 0, not 0 A`, ""},
		{"tape/own", "0.5 m", "-0.5 m", "-0.5 m", `"joint_every" must be more than 0, not −500 mm`, ""},
		{"tape/own", "0.5 m", "0.5 mm", "0.5 mm", `factory joints every 0.500 mm come more often than pixels, at 60.0 /m`, "is the unit right?"},
		{"tape/own", "rail: 100 mΩ/m", "rail: 1e-300 Ω/m", "1e-300", `1.00e−297 mΩ/m is no resistance per length of a real part`, "is the unit right?"},
		{"tape/own", "rail: 100 mΩ/m", "rail: {is: 1e10 Ω/m}", "1e10", `1.00e+10 Ω/m is no resistance per length of a real part`, "is the unit right?"},
		{"tape/own", "joint: 2 mΩ", "joint: -2 mΩ", "-2 mΩ", `"joint" cannot be less than 0, and is −2.00 mΩ`, ""},
		{"tape/own", "  joint: 2 mΩ\n", "", "title", `"joint" and "joint_every" belong together`, "give the resistance of a factory joint and how often one comes, or neither"},
		{"tape/own", "    rail:", "    rails:", "rails:", `"rails" is nothing to measure`, "write one of rail, set, string, idle"},
		{"tape/own", "    red:", "    pink:", "pink", `"pink" is not a channel`, "write one of red, green, blue, white, warm, cold, amber"},
		{"tape/own", "set: 12 mA", "set: -12 mA", "-12 mA", `"set" cannot be less than 0, and is −12.0 mA`, ""},
		{"tape/own", "lo: 1.8 V", "lo: 2.4 V", "2.4 V, hi", `"lo" (2.40 V) must be below "hi" (2.40 V)`, ""},
		{"tape/own", "lo: 4 V", "lo: -4 V", "-4 V", `"lo" cannot be less than 0, and is −4.00 V`, ""},
		{"tape/own", "hi: 2.4 V, soft: 0.1 V", "hi: 2.4 V, soft: 0 V", "0 V, candela", `"soft" must be more than 0, not 0 V`, ""},
		{"tape/own", "string: 150 Ω", "string: 0 Ω", "0 Ω", `"string" must be more than 0, not 0 Ω`, ""},
		{"tape/own", "candela: 0.3 cd", "candela: -1 cd", "-1 cd", `"candela" cannot be less than 0, and is −1.00 cd`, ""},
		{"tape/own", "{string: 150 Ω, ", "{string: 150 Ω, set: 1 mA, ", "150 Ω", `a channel with "string" has no "set" and no "hi"`, "write set and hi for a regulated channel, or string for a resistor-limited one"},
		{"tape/own", "{string: 150 Ω, ", "{", "{lo: 4 V", `a channel needs "set" and "hi", or "string"`, "write set and hi for a regulated channel, or string for a resistor-limited one"},
		{"tape/own", "x: 0.7, y: 0.3", "x: 0.8, y: 0.3", "0.8", "x and y are no chromaticity: both must be more than 0 and their sum at most 1", ""},
		{"tape/own", ", x: 0.7, y: 0.3", ", x: 0.7", "0.7}", "x and y are no chromaticity: both must be more than 0 and their sum at most 1", ""},
		{"tape/own", "supply: rail", "supply: chip", "chip", `"chip" is not a voltage above 0`, "write rail, or the chip's own logic voltage such as 5 V"},
		{"tape/own", "supply: rail", "supply: 0 V", "0 V", `"0 V" is not a voltage above 0`, "write rail, or the chip's own logic voltage such as 5 V"},
		{"tape/own", "high: 70 %", "high: seventy %", "seventy", `"seventy %" is not a percentage above 0`, "write for example 80 %"},
		{"tape/own", "low: 0.7 V", "low: 0.7", "0.7, over", `"0.7" is not a voltage above 0`, "write a share of the supply such as 70 %, or a voltage such as 2.7 V"},
		{"tape/own", "over: 0.3 V", "over: -0.3 V", "-0.3 V", `"over" cannot be less than 0, and is −300 mV`, ""},
		{"tape/own", "under: 0.3 V", "under: -0.3 V", "-0.3 V", `"under" cannot be less than 0, and is −300 mV`, ""},
		{"tape/own", "protocol/single-wire-800k-24", "protocol/single-wire-800k-42", "protocol/single", `there is no protocol "protocol/single-wire-800k-42"`, "did you mean protocol/single-wire-800k-24?"},
		{"tape/own", "protocol/single-wire-800k-24", "curve/iso8820-blade", "curve/", `there is no protocol "curve/iso8820-blade"`, "there are protocol/clocked-24, protocol/clocked-24-marked, protocol/clocked-32, protocol/clocked-32-checked, protocol/clocked-32-latched, protocol/single-wire-400k-24-rgb, protocol/single-wire-800k-24, protocol/single-wire-800k-24-50us and 23 more"},
		{"protocol/own", "bits: 24", "bits: 0", "0\n", `"bits" must be at least 1, not 0`, ""},
		{"protocol/own", "depth: 8", "depth: 0", "0\n", `"depth" must be at least 1, not 0`, ""},
		{"protocol/own", "depth: 8", "depth: 7", "24", `3 channels of 7 bits, and 0 more, are 21 bits, and "bits" is 24`, ""},
		{"protocol/own", "GRB", "GRBW", "24", `4 channels of 8 bits, and 0 more, are 32 bits, and "bits" is 24`, ""},
		{"protocol/own", "GRB", "GRX", "GRX", `"order" cannot be "GRX"`, "write each channel once, by its letter: R, G, B, W (warm where there is a C), C for cold, A for amber"},
		{"protocol/own", "GRB", "GRG", "GRG", `"order" cannot be "GRG"`, ""},
		{"protocol/own", "1.2 us", "0 us", "0 us", `"period_min" must be more than 0, not 0 s`, ""},
		{"protocol/own", "1.2 us", "1.26 us", "1.26 us", `"period_min" (1.26 µs) cannot be above "period" (1.25 µs)`, ""},
		{"protocol/own", "1.3 us", "1.24 us", "1.25 us", `"period" (1.25 µs) cannot be above "period_max" (1.24 µs)`, ""},
		{"protocol/own", "is: 300 ns", "is: 200 ns", "220 ns", `"min" (220 ns) cannot be above "is" (200 ns)`, ""},
		{"protocol/own", "is: 300 ns", "is: 390 ns", "390 ns", `"is" (390 ns) cannot be above "max" (380 ns)`, ""},
		{"protocol/own", "max: 380 ns", "max: 210 ns", "220 ns", `"min" (220 ns) cannot be above "max" (210 ns)`, ""},
		{"protocol/own", "min: 580 ns", "min: 0 ns", "0 ns", `"min" must be more than 0, not 0 s`, ""},
		{"protocol/own", "min: 590 ns", "min: 370 ns", "{high: {min: 370 ns", "the high of a one, 370 ns and more, cannot be shorter than that of a zero, up to 380 ns", ""},
		{"protocol/own", "start: 64", "start: -1", "-1", `"start" must be at least 0, not -1`, ""},
		{"protocol/own", "bits: 32", "bits: -1", "-1", `"bits" must be at least 0, not -1`, ""},
		{"protocol/own", "byte_every: 16", "byte_every: 0", "0, least", `"byte_every" must be at least 1, not 0`, ""},
		{"protocol/own", "least: 40", "least: -1", "-1", `"least" must be at least 0, not -1`, ""},
		{"protocol/own", "2 kHz", "0 kHz", "0 kHz", `"refresh" must be more than 0, not 0 Hz`, ""},
		{"protocol/own", "15 pF", "-15 pF", "-15 pF", `"capacitance" cannot be less than 0, and is −15.0 pF`, ""},
		{"protocol/own", "delay: 300 ns", "delay: -300 ns", "-300 ns", `"delay" cannot be less than 0, and is −300 ns`, ""},
		{"protocol/own", "3 m", "0 m", "0 m", `"reach" must be more than 0, not 0 m`, ""},
		{"protocol/own", "refresh: 2 kHz", "clock_max: 2 MHz", "2 MHz", `"clock_max" belongs to a clocked protocol`, ""},
		{"protocol/own", "  period: 1.25 us\n", "", "title", `a protocol without a clock needs "period"`, "write for example period: 1.25 us"},
		{"protocol/clocked", "  clock_max: 10 MHz\n", "", "title", `a clocked protocol needs "clock_max"`, "write for example clock_max: 10 MHz"},
		{"protocol/clocked", "10 MHz", "0 MHz", "0 MHz", `"clock_max" must be more than 0, not 0 Hz`, ""},
		{"protocol/clocked", "0.5", "-0.5", "-0.5", `"delay_clocks" cannot be less than 0`, ""},
		{"protocol/clocked", "delay_clocks: 0.5", "period: 1 us", "1 us", `"period" belongs to a protocol without a clock`, ""},
		{"protocol/clocked", "overhead: 8", "overhead: -1", "-1", `"overhead" must be at least 0, not -1`, ""},
		{"protocol/own", "1.25 us\n  period_min: 1.2 us", "0 us", "0 us", `"period" must be more than 0, not 0 s`, ""},
		{"protocol/own", "280 us", "-280 us", "-280 us", `"latch" cannot be less than 0, and is −280 µs`, ""},
		{"cable/own", "cores: 2", "cores: 0", "0\n", `"cores" must be at least 1, not 0`, ""},
		{"cable/own", "1.5 mm²", "0 mm²", "0 mm²", `"area" must be more than 0, not 0 mm²`, ""},
		{"cable/own", "class: 5", "class: 3", "3\n", "there is no conductor class 3", "IEC 60228 has 1 solid, 2 stranded, 5 flexible, 6 very flexible"},
		{"cable/own", "13.3 Ω/km", "-13.3 Ω/km", "-13.3", `"r20" must be more than 0, not −13.3 mΩ/m`, ""},
		{"cable/own", "70 °C", "30 °C", "30 °C", "the insulation must stand more than the 30 °C for which ampacity is given, and stands 30.0 °C", ""},
		{"cable/own", "conduit: 15 A", "conduit: 0 A", "0 A", `"conduit" must be more than 0, not 0 A`, ""},
		{"cable/own", "surface: 16 A", "surface: 0 A", "0 A", `"surface" must be more than 0, not 0 A`, ""},
		{"cable/own", "free: 17 A", "free: -17 A", "-17 A", `"free" must be more than 0, not −17.0 A`, ""},
		{"cable/own", "{conduit: 15 A, surface: 16 A, free: 17 A}", "0 A", "0 A", "it must be more than 0, not 0 A", ""},
		{"cable/own", "100 Ω\n", "0 Ω\n", "0 Ω", `"z0" must be more than 0, not 0 Ω`, ""},
		{"cable/own", "5 ns/m", "0 ns/m", "0 ns/m", `"delay" must be more than 0, not 0 ns/m`, ""},
		{"cable/own", "60 pF/m", "0 pF/m", "0 pF/m", `"capacitance" must be more than 0, not 0 pF/m`, ""},
		{"cable/own", "0.6 µH/m", "0 µH/m", "0 µH/m", `"inductance" must be more than 0, not 0 nH/m`, ""},
		{"fuse/own", "rating: 5 A", "rating: 0 A", "0 A", `"rating" must be more than 0, not 0 A`, ""},
		{"fuse/own", "18 mΩ", "-18 mΩ", "-18 mΩ", `"resistance" cannot be less than 0, and is −18.0 mΩ`, ""},
		{"fuse/own", "26 mΩ", "17 mΩ", "18 mΩ", `"resistance" (18.0 mΩ) cannot be above "resistance_hot" (17.0 mΩ)`, ""},
		{"fuse/own", "90 A²s", "0 A²s", "0 A²s", `"melting" must be more than 0, not 0 A²s`, ""},
		{"fuse/own", "0.5 W", "-1 W", "-1 W", `"tripped" cannot be less than 0, and is −1.00 W`, ""},
		{"fuse/own", "connector/holder-inline-blade", "connector/holder-inline-blades", "connector/holder", `there is no connector "connector/holder-inline-blades"`, "did you mean connector/holder-inline-blade?"},
		{"fuse/own", "32 V", "0 V", "0 V", `"volts_max" must be more than 0, not 0 V`, ""},
		{"fuse/own", "1 kA", "0 kA", "0 kA", `"breaking" must be more than 0, not 0 A`, ""},
		{"fuse/own", "curve/iso8820-blade", "curve/iso8820-blades", "curve/iso", `there is no curve "curve/iso8820-blades"`, "did you mean curve/iso8820-blade?"},
		{"fuse/own", "holder: blade", "holder: glass", "glass", `"holder" cannot be "glass"`, "write one of blade, mini, maxi, cartridge, inline, soldered"},
		{"curve/own", "multiple: 1.1,", "multiple: 0,", "0,", `"multiple" must be more than 0`, ""},
		{"curve/own", "multiple: 1.35", "multiple: 1.1", "- {multiple: 1.1, min: 100 h}", "gate 2 must have a higher multiple than the one before it", ""},
		{"curve/own", ", min: 100 h", "", "- {multiple: 1.1}", `gate 1 needs a "min" or a "max"`, ""},
		{"curve/own", "max: 5 s", "max: 601 s", "- {multiple: 1.1, min", "gate 3 is slower than one at a lower multiple", ""},
		{"curve/own", "min: 0.1 s, max: 5 s", "min: 2 s, max: 5 s", "- {multiple: 1.1, min", "gate 3 is slower than one at a lower multiple", ""},
		{"curve/own", "min: 0.1 s", "min: -1 s", "-1 s", `"min" cannot be less than 0, and is −1.00 s`, ""},
		{"curve/own", "min: 0.1 s, max: 5 s", "max: 0 s", "0 s", `"max" must be more than 0, not 0 s`, ""},
		{"curve/own", "min: 1 s, max: 600 s", "min: 700 s, max: 600 s", "700 s", `"min" (700 s) cannot be above "max" (600 s)`, ""},
		{"curve/own", "at: 20 °C", "at: -20 °C", "- {at: -20 °C, factor: 120 %}", "derating 2 must be for warmer air than the one before it", ""},
		{"curve/own", "85 %", "101 %", "- {at: -20 °C, factor: 120 %}", "derating 3 is a higher rating than one in colder air", ""},
		{"curve/own", "85 %", "0 %", "0 %", `"factor" must be more than 0, not 0 %`, ""},
		{"supply/own", "volts: 5 V\n  volts_min: 4.5 V", "volts: 0 V", "0 V", `"volts" must be more than 0, not 0 V`, ""},
		{"supply/own", "4.5 V", "0 V", "0 V", `"volts_min" must be more than 0, not 0 V`, ""},
		{"supply/own", "4.5 V", "5.2 V", "5.2 V", `"volts_min" (5.20 V) cannot be above "volts" (5.00 V)`, ""},
		{"supply/own", "5.5 V", "4.9 V", "5 V", `"volts" (5.00 V) cannot be above "volts_max" (4.90 V)`, ""},
		{"supply/own", "amps: 40 A", "amps: 0 A", "0 A", `"amps" must be more than 0, not 0 A`, ""},
		{"supply/own", "200 W", "-200 W", "-200 W", `"watts" must be more than 0, not −200 W`, ""},
		{"supply/own", "1 mΩ", "-1 mΩ", "-1 mΩ", `"source_resistance" cannot be less than 0, and is −1.00 mΩ`, ""},
		{"supply/own", "1 W", "-1 W", "-1 W", `"no_load" cannot be less than 0, and is −1.00 W`, ""},
		{"supply/own", "87 %", "0 %", "0 %", `"efficiency" must be more than 0 % and at most 100 %, not 0 %`, ""},
		{"supply/own", "87 %", "101 %", "101 %", `"efficiency" must be more than 0 % and at most 100 %, not 101 %`, ""},
		{"supply/own", "low: 5.7 V", "low: 4 V", "5 V\n", `"volts" (5.00 V) must be below "over_voltage" (4.00 V)`, ""},
		{"supply/own", "150 mV", "-1 mV", "-1 mV", `"ripple" cannot be less than 0, and is −1.00 mV`, ""},
		{"supply/own", "inrush: 60 A", "inrush: 0 A", "0 A", `"inrush" must be more than 0, not 0 A`, ""},
		{"supply/own", "16 ms", "-1 ms", "-1 ms", `"hold_up" cannot be less than 0, and is −1.00 ms`, ""},
		{"supply/own", "2.5 %/K", "0 %/K", "0 %/K", `"derate" must be more than 0, not 0 %/K`, ""},
		{"supply/own", "derate_from: 50 °C\n  ", "", "2.5 %/K", `"derate" needs "derate_from"`, "give the temperature of the air from which it loses"},
		{"supply/own", "ambient_max: 70 °C", "ambient_max: 40 °C", "50 °C", `"derate_from" (50.0 °C) cannot be above "ambient_max" (40.0 °C)`, ""},
		{"supply/own", "low: 44 A", "low: 0 A", "0 A", `"low" must be more than 0, not 0 A`, ""},
		{"supply/own", "low: 44 A", "low: 61 A", "61 A", `"low" (61.0 A) cannot be above "high" (60.0 A)`, ""},
		{"supply/own", "hiccup", "hicup", "hicup", `"limit" cannot be "hicup"`, "did you mean hiccup?"},
		{"supply/pulsing", "pulse_on: 1 s", "pulse_on: 0 s", "0 s", `"pulse_on" must be more than 0, not 0 s`, ""},
		{"supply/pulsing", "7 s", "-7 s", "-7 s", `"pulse_off" must be more than 0, not −7.00 s`, ""},
		{"supply/pulsing", "3 V", "0 V", "0 V", `"pulse_below" must be more than 0, not 0 V`, ""},
		{"supply/pulsing", "3 V", "5.1 V", "5.1 V", `"pulse_below" (5.10 V) must be below "volts" (5.00 V)`, ""},
		{"supply/pulsing", "pulse_on: 1 s\n  ", "", "title", `"pulse_on" and "pulse_off" belong together`, "give both times, or neither"},
		{"supply/pulsing", "pulse_on: 1 s", "fold_to: 40 %\n  pulse_on: 1 s", "40 %", `"fold_to" belongs to a supply whose limit is fold-back, and this one's is hiccup`, ""},
		{"supply/pulsing", "pulse_on: 1 s", "boost: 150 %\n  pulse_on: 1 s", "150 %", `"boost" belongs to a supply whose limit is boost, and this one's is hiccup`, ""},
		{"supply/folding", "25 %", "0 %", "0 %", `"fold_to" must be more than 0 % and at most 100 %, not 0 %`, ""},
		{"supply/folding", "25 %", "101 %", "101 %", `"fold_to" must be more than 0 % and at most 100 %, not 101 %`, ""},
		{"supply/folding", "150 %", "100 %", "100 %", `"boost" must be more than 100 % of the rated current, not 100 %`, ""},
		{"supply/folding", "4 s", "0 s", "0 s", `"boost_for" must be more than 0, not 0 s`, ""},
		{"supply/folding", "then: fold-back\n  fold_to: 25 %", "then: boost", "boost", "a boost cannot be followed by a boost", "write constant-current, hiccup, fold-back or latch-off"},
		{"supply/folding", "fold_to: 25 %", "pulse_below: 2 V\n  fold_to: 25 %", "2 V", `"pulse_below" belongs to a supply whose limit is hiccup, and this one's is fold-back`, ""},
		{"board/own", "    1:", "    one:", "one", `way "one" must be named by digits`, "write 1, 2, 3 and so on"},
		{"board/own", "    P1:", "    in:", "in:", `port "in" needs a name of letters and digits that begins with a letter, other than in`, "write P1, P2, P3 and so on"},
		{"board/own", "    P1:", "    1P:", "1P", `port "1P" needs a name of letters and digits that begins with a letter, other than in`, "write P1, P2, P3 and so on"},
		{"board/own", "{amps: 30 A", "{amps: 0 A", "0 A", `"amps" must be more than 0, not 0 A`, ""},
		{"board/own", "resistance: 1 mΩ", "resistance: -1 mΩ", "-1 mΩ", `"resistance" cannot be less than 0, and is −1.00 mΩ`, ""},
		{"board/own", "{amps: 10 A", "{amps: 0 A", "0 A", `"amps" must be more than 0, not 0 A`, ""},
		{"board/own", "resistance: 2 mΩ", "resistance: -2 mΩ", "-2 mΩ", `"resistance" cannot be less than 0, and is −2.00 mΩ`, ""},
		{"board/own", "\n    1: {amps: 10 A, resistance: 2 mΩ, holder: blade}", " {}", "{}", "a board needs at least one way", "write for example 1: {amps: 10 A, resistance: 2 mΩ}"},
		{"board/own", "low: 0.2 V", "low: 4.6 V", "4.6 V, driver", `"low" (4.60 V) must be below "high" (4.60 V)`, ""},
		{"board/own", "25 Ω", "-25 Ω", "-25 Ω", `"driver" cannot be less than 0, and is −25.0 Ω`, ""},
		{"board/own", "47 Ω", "-47 Ω", "-47 Ω", `"series" cannot be less than 0, and is −47.0 Ω`, ""},
		{"board/own", "5 ns", "-5 ns", "-5 ns", `"rise" cannot be less than 0, and is −5.00 ns`, ""},
		{"board/own", "ground: 5 mΩ", "ground: -5 mΩ", "-5 mΩ", `"ground" cannot be less than 0, and is −5.00 mΩ`, ""},
		{"board/own", "ground_amps: 2 A", "ground_amps: 0 A", "0 A", `"ground_amps" must be more than 0, not 0 A`, ""},
		{"board/own", "fuse/ptc-0.75A", "fuse/ptc-1A", "fuse/ptc-1A", `there is no fuse "fuse/ptc-1A"`, ""},
		{"connector/own", "area_min: 0.2 mm²", "area_min: 4 mm²", "4 mm²", `"area_min" (4.00 mm²) cannot be above "area_max" (2.50 mm²)`, ""},
		{"connector/own", "0.5 Nm", "0 Nm", "0 Nm", `"torque" must be more than 0, not 0 Nm`, ""},
		{"tape/own", "ip: 67", "ip: X7", "X7", `"X7" is no degree of protection`, "write its two digits, such as 65 for IP65: the first 0 to 6, the second 0 to 9 (IEC 60529)"},
		{"enclosure/own", "ip: 65", "ip: 79", "79", `"79" is no degree of protection`, "write its two digits, such as 65 for IP65: the first 0 to 6, the second 0 to 9 (IEC 60529)"},
		{"enclosure/own", "120 mm", "0 mm", "0 mm", `"depth" must be more than 0, not 0 m`, ""},
		{"board/own", "28 V", "0 V", "0 V", `"volts_max" must be more than 0, not 0 V`, ""},
		{"relay/own", "16 A", "-1 A", "-1 A", `"amps" must be more than 0, not −1.00 A`, ""},
		{"capacitor/own", "10 V", "0 V", "0 V", `"volts_max" must be more than 0, not 0 V`, ""},
		{"buffer/own", "high: 4.4 V", "high: 0.1 V", "0.2 V", `"low" (200 mV) must be below "high" (100 mV)`, ""},
		{"junction/own", "ways: 3", "ways: 1", "1", `"ways" must be at least 2, not 1`, ""},
		{"junction/own", "20 A", "0 A", "0 A", `"amps" must be more than 0, not 0 A`, ""},
		{"junction/own", "1 mΩ", "-1 mΩ", "-1 mΩ", `"resistance" cannot be less than 0, and is −1.00 mΩ`, ""},
		{"junction/own", "4 mm²", "0 mm²", "0 mm²", `"area_max" must be more than 0, not 0 mm²`, ""},
	} {
		t.Run(c.part+" "+strings.TrimSpace(c.replaced), func(t *testing.T) {
			text := c.part + ":" + sound[c.part] + "\n"
			if !strings.Contains(text, c.old) {
				t.Fatalf("%q is not in %s", c.old, c.part)
			}
			text = strings.Replace(text, c.old, c.replaced, 1)
			_, mistakes := read(text)
			if len(mistakes) != 1 {
				t.Fatalf("%d mistakes, want one: %v", len(mistakes), mistakes)
			}
			m := mistakes[0]
			if want := place(text, c.at); m.Text != c.want || c.hint != "" && m.Hint != c.hint || fmt.Sprintf("%d:%d", m.Pos.Line, m.Pos.Column) != want {
				t.Errorf("it says %d:%d %q, %q; want %s %q, %q", m.Pos.Line, m.Pos.Column, m.Text, m.Hint, want, c.want, c.hint)
			}
		})
	}
}

// place is the line and column of the last place in the text where a value, a key or an item begins with at.
func place(text, at string) string {
	i := max(strings.LastIndex(text, ": "+at)+2, strings.LastIndex(text, " "+at)+1)
	before := text[:i]
	line := strings.Count(before, "\n") + 1
	return fmt.Sprintf("%d:%d", line, 1+len([]rune(before[strings.LastIndexByte(before, '\n')+1:])))
}
