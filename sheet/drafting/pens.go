package drafting

import (
	"farend/draw"
)

// FaintPen is that of leaders and of the edges of what is not the subject of a drawing.
var FaintPen = draw.Pen{Tone: draw.Graphite, Width: draw.Hair}
