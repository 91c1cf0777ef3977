package trade

// Areas are the areas of the trade, in the order in which methods are listed:
// from the wire to the whole system. Every shipped method is of one of them.
var Areas = []string{
	"wire", "power", "loudness", "loads", "lines", "antennas", "turntable", "disc and tape", "room", "checks", "boxes", "inputs",
}
