package remedy

// Alike reports whether two parts are of one family and differ in size.
func Alike(a, b string) bool { return family(a) == family(b) }
