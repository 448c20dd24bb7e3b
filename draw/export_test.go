package draw

// PaletteColour is open to tests.
var PaletteColour = paletteColour
