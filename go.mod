module farend

go 1.26
