// Package layout puts things on pages: sizes of paper, frame and title block, words that are broken into lines, labels that keep out of
// each other's way, keys and tables. It knows nothing of what they say.
//
// Pages have a frame 10 mm from the edge (ISO 5457) and a title block with fields after ISO 7200, from its help pages. Texts are 7
// points or larger; numbers stand with their unit behind a thin space.
package layout
