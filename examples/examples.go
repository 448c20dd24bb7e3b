// Package examples holds the worked schemes that farend demo writes. Names, places, boards and prices are invented.
package examples

import "embed"

// Files are the schemes, NAME.scheme.yaml.
//
//go:embed *.scheme.yaml
var Files embed.FS
