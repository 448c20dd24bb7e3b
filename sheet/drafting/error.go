package drafting

// An Error says why a page cannot be drawn, and what to do.
type Error struct{ Text, Hint string }

func (e *Error) Error() string { return e.Text }
