package sheet

// The columns of the table of settings.
const (
	number = iota
	name
	value
	low
	high
	how
	columns
)

// columnsFor returns where each column starts and how wide it is (mm): as wide as its
// contents ask for; the words for reading get the rest.
func (p *pen) columnsFor(table Section) (at [columns][2]float64) {
	const apart = 2.5
	next := func(prev [2]float64, w float64) [2]float64 { return [2]float64{prev[0] + prev[1] + apart, w} }
	widest := func(column int, in face, limit float64) float64 {
		w := 0.0
		for _, s := range table.Settings {
			w = max(w, p.width(p.printable(s[column]), in))
		}
		return min(w, limit*p.w)
	}
	at[number] = [2]float64{p.x, tickSide(p.bold()) + 1 + p.width("88", p.bold())}
	at[name] = next(at[number], widest(name, p.bold(), 0.19))
	at[value] = next(at[name], max(p.width(table.Head[value], face{size: smallest}), widest(value, p.valueFace(table), 0.38)))
	at[low], at[high] = at[value], at[value]
	if table.Toleranced() {
		at[low] = next(at[value], widest(low, p.body(), 0.15))
		at[high] = next(at[low], widest(high, p.body(), 0.15))
	}
	at[how] = next(at[high], 0)
	at[how][1] = p.x + p.w - at[how][0]
	return at
}

// settings writes the table of settings.
func (p *pen) settings(table Section) {
	at := p.columnsFor(table)
	p.heading(table.Title, table.Remark)
	tall := 0.0
	for k, words := range table.Head {
		if words != "" {
			caption := p.cell(at[k], words, face{size: smallest})
			p.show(caption, p.y)
			tall = max(tall, caption.tall()+0.3)
		}
	}
	p.y += tall
	for _, s := range table.Settings {
		p.rule(p.x, p.y, p.w, 0.1)
		p.setting(table, s, at)
	}
	p.rule(p.x, p.y, p.w, 0.1)
}

// valueFace returns the face of values: large where they are to be set.
func (p *pen) valueFace(table Section) face {
	if table.Ticks {
		return p.large()
	}
	return p.body()
}

// setting writes a row, its cells in the middle of its height.
func (p *pen) setting(table Section, s Setting, at [columns][2]float64) {
	const pad = 0.3
	box := at[number][0]
	at[number][0] += tickSide(p.bold()) + 1
	faces := [columns]face{number: p.bold(), name: p.bold(), value: p.valueFace(table), low: p.body(), high: p.body(), how: p.body()}
	var cells [columns]cell
	top, tall := p.y+pad, 0.0
	for k, in := range faces {
		cells[k] = p.cell(at[k], s[k], in)
		tall = max(tall, cells[k].tall())
	}
	if table.Ticks {
		p.tick(box, top+(tall-p.bold().row())/2, p.bold())
	}
	for _, k := range []int{number, name, how, low, high, value} {
		p.show(cells[k], top+(tall-cells[k].tall())/2)
	}
	p.y = top + tall + pad
}

// cell is text in a column of a table.
type cell struct {
	at    [2]float64
	face  face
	lines []string
	right bool
}

// cell breaks text into the lines of a cell.
func (p *pen) cell(at [2]float64, words string, in face) cell {
	return cell{at: at, face: in, lines: p.lines(words, in, at[1]+0.01)}
}

// tall returns the height of a cell.
func (c cell) tall() float64 { return float64(len(c.lines)) * c.face.row() }

// show writes a cell from y down.
func (p *pen) show(c cell, y float64) {
	for _, s := range c.lines {
		x := c.at[0]
		if c.right {
			x += c.at[1] - p.width(p.printable(s), c.face)
		}
		p.write(x, y, s, c.face)
		y += c.face.row()
	}
}

// section writes a titled part of the page or of a column.
func (p *pen) section(s Section) {
	if s.Settings != nil {
		p.settings(s)
	} else {
		p.heading(s.Title, s.Remark)
	}
	for _, r := range s.Rows {
		p.row(r)
	}
	for _, l := range s.Lines {
		p.bullet(l, s.Ticks)
	}
	p.y += p.gap
}

// writing is how wide a line to write on is (mm).
const writing = 0.2

// row writes a thing, its number beside it, and room to write: more where the row runs
// over the page.
func (p *pen) row(r Row) {
	const apart, over = 2, 120
	room, least := 13.0, 0.36*p.w
	if p.w > over {
		room = 45
	}
	right := p.x + p.w
	if r.Blank {
		right -= room + apart
	}
	named := p.width(p.printable(r.What), p.whatFace(r))
	value := p.cell([2]float64{0, max(least, right-apart-p.x-named)}, r.Value, p.bold())
	value.right = true
	for _, s := range value.lines {
		value.at[0] = max(value.at[0], p.width(s, p.bold()))
	}
	value.at = [2]float64{right - value.at[0], value.at[0]}
	left := [2]float64{p.x, value.at[0] - apart - p.x}
	what, detail := p.cell(left, r.What, p.whatFace(r)), p.cell(left, r.Detail, p.body())
	p.show(what, p.y)
	p.show(detail, p.y+what.tall())
	p.show(value, p.y)
	tall := max(what.tall()+detail.tall(), value.tall())
	if r.Blank {
		line := p.y + p.bold().row() - 0.3
		p.rule(p.x, line, p.w-room-apart, 0.05)
		p.rule(right+apart, line, room, writing)
	}
	p.y += tall + 0.3
}

// whatFace returns the face of what a row is about: bold where more follows.
func (p *pen) whatFace(r Row) face {
	if r.Detail == "" {
		return p.body()
	}
	return p.bold()
}
