module embedcheck

go 1.26
