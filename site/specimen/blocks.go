package specimen

import (
	"fmt"
	"strings"
)

// blocks write the five blocks of a guide, each of twenty cells. Their values
// differ from guide to guide, so that no two guides ask for the same working.
var blocks = []func(*text){wire, seat, lead, load, wall}

func wire(g *text) {
	if g.mode == typed {
		g.table("0.251")
		return
	}
	g.line("```calc speaker-wire\nname: %s\ngauge: 12, 14, 16, 18 AWG\nrun: 2 m to 10 m by 2 m\nload: %d.%02d ohm\nrows: gauge\ncolumns: run\nshow: loss",
		g.name("wire"), 4+g.i%9, g.i/9%100)
	g.line("limit: loss at most 0.5 dB, beyond: \"too thin\"\nchart: loss over run\nfigure: lost = loss when gauge is 14 AWG and run is 8 m\nfigure: far = run when run is 8 m\n```\n")
}

func seat(g *text) {
	if g.mode == typed {
		g.table("78.4")
		return
	}
	g.line("```calc seat-level\nname: %s\npower: 1, 2, 5, 10 W\nsensitivity: 86 dB SPL\nbasis: watt\nload: 8 ohm\ndistance: 2.%03d m to 4.%03d m by 0.5 m\nrows: power\ncolumns: distance\nshow: level_at_seat",
		g.name("seat"), g.i%1000, g.i%1000)
	g.line("figure: loud = level_at_seat when power is 10 W and distance is 2.%03d m\nfigure: soft = level_at_seat when power is 1 W and distance is 4.%03d m\n```\n", g.i%1000, g.i%1000)
}

func lead(g *text) {
	if g.mode == typed {
		g.table("15900")
		return
	}
	g.line("```calc line-lead\nname: %s\noutput_ohms: %d, %d, %d, %d ohm\nlength: 1, 2, 3, 5, 10 m\nper_metre: 100 pF/m\nfrequency: 20 kHz\nrows: output_ohms\ncolumns: length\nshow: corner",
		g.name("lead"), 100+g.i%97, 600+g.i%97, 1000+g.i%97, 2200+g.i%97)
	g.line("figure: short = corner when output_ohms is %d ohm and length is 1 m\nfigure: long = corner when output_ohms is %d ohm and length is 10 m\n```\n", 2200+g.i%97, 2200+g.i%97)
}

func load(g *text) {
	if g.mode == typed {
		g.table("62.5")
		return
	}
	g.line("```calc other-load\nname: %s\nrated: %d W to %d W by 10 W\nrated_load: 8 ohm\nload: 4, 6, 8, 16 ohm\nrows: load\ncolumns: rated\nshow: power",
		g.name("load"), 20+g.i%50, 60+g.i%50)
	g.line("figure: half = power when load is 16 ohm and rated is %d W\nfigure: all = power when load is 8 ohm and rated is %d W\n```\n", 20+g.i%50, 60+g.i%50)
}

func wall(g *text) {
	if g.mode == typed {
		g.table("171.5")
		return
	}
	g.line("```calc boundary-notch\nname: %s\nwall: 0.3, 0.5, 0.8, 1.2 m\nsound: %d, %d, %d, %d, %d m/s\nrows: wall\ncolumns: sound\nshow: notch",
		g.name("wall"), 340+g.i%2, 341+g.i%2, 342+g.i%2, 343+g.i%2, 344+g.i%2)
	g.line("figure: near = notch when wall is 0.3 m and sound is %d m/s\nfigure: deep = notch when wall is 1.2 m and sound is %d m/s\n```\n", 343+g.i%2, 343+g.i%2)
}

// figures writes the two sentences with figures that follow a block.
func (g *text) figures(block int) {
	type named struct{ block, name, typed string }
	pairs := [][2]named{
		{{"wire", "lost", "0.251 dB"}, {"wire", "far", "8 m"}},
		{{"seat", "loud", "61.9 dB SPL"}, {"seat", "soft", "46.0 dB SPL"}},
		{{"lead", "short", "723000 Hz"}, {"lead", "long", "72300 Hz"}},
		{{"load", "half", "12.5 W"}, {"load", "all", "62.5 W"}},
		{{"wall", "near", "286 Hz"}, {"wall", "deep", "71.5 Hz"}},
	}
	a, b := pairs[block][0], pairs[block][1]
	second := g.figure(b.block, b.name, b.typed)
	if g.mode == computed && block == 4 && g.i%10 == 9 {
		second = fmt.Sprintf("<figure:%s-%d.deep>", "wall", g.i-1) // the guide before tells it
	}
	g.line("The sheet gives %s here, and %s beside it.\n", g.figure(a.block, a.name, a.typed), second)
}

// table types a table of twenty cells.
func (g *text) table(number string) {
	g.line("| | 2 m | 4 m | 6 m | 8 m | 10 m |\n|---|--:|--:|--:|--:|--:|")
	for row := range 4 {
		g.line("| %d AWG |%s", 12+2*row, strings.Repeat(" "+number+" |", 5))
	}
	g.line("")
}
