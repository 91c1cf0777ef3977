module bindpost

go 1.26
