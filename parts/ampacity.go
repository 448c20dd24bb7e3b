package parts

import "farend/internal/document"

// ReadNode reads one current for every method ("15 A" or {is: 15 A, …}), or {conduit: …, surface: …, free: …}.
func (a *Ampacity) ReadNode(r *document.Reader, n document.Node) {
	_, one := n.Get("is")
	if one || !n.IsMap() {
		r.Decode(n, &a.Conduit)
		a.Surface, a.Free = a.Conduit, a.Conduit
		positive(r, n, "", a.Conduit)
		return
	}
	type plain Ampacity
	r.Decode(n, (*plain)(a))
	positive(r, n, "conduit", a.Conduit)
	positive(r, n, "surface", a.Surface)
	positive(r, n, "free", a.Free)
}
