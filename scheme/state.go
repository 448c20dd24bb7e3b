package scheme

// darkState is the state that is always there: energised, every channel off.
const darkState = "dark"
