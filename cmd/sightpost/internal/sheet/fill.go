package sheet

import (
	"fmt"
	"math"
)

// pen writes downward in a column of the page.
type pen struct {
	*layout
	x, w float64
	y    float64
}

// paragraph writes text in lines.
func (p *pen) paragraph(words string, in face) {
	for _, s := range p.lines(words, in, p.w) {
		p.write(p.x, p.y, s, in)
		p.y += in.row()
	}
}

// bullet writes text in lines after a mark; with tick the mark is a box.
func (p *pen) bullet(words string, tick bool) {
	in := p.body()
	indent := 0.8 * in.size * mmPerPoint
	if tick {
		indent += 0.4 * in.size * mmPerPoint
		p.tick(p.x, p.y, in)
	} else {
		p.write(p.x, p.y, "•", in)
	}
	inner := pen{p.layout, p.x + indent, p.w - indent, p.y}
	inner.paragraph(words, in)
	p.y = inner.y
}

// heading writes a title with a remark beside it, or below if there is no room, over
// a line.
func (p *pen) heading(title, remark string) {
	p.rule(p.x, p.y, p.w, 0.4)
	p.y += 0.7
	used := p.write(p.x, p.y, title, p.bold())
	in := p.body()
	const apart = 2
	if remark != "" && used+apart+p.width(p.printable(remark), in) > p.w {
		p.y += in.row()
		p.paragraph(remark, in)
		p.y += 0.4
		return
	}
	p.write(p.x+used+apart, p.y, remark, in)
	p.y += in.row() + 0.4
}

// fill places everything but the figures, and returns how much too long the page is
// (mm), negative if there is room left.
func (l *layout) fill(c *Content) float64 {
	width, height := l.paper.size()
	p := pen{l, edge, width - 2*edge, edge}
	foot := fmt.Sprintf("%s · page %d of %d", c.Foot, l.Number, l.Of)
	in := face{size: smallest}
	last := height - edge - float64(len(p.lines(foot, in, p.w)))*in.row()
	if l.Number > 1 {
		p.paragraph(c.Title+"  "+c.Label, p.bold())
		p.y += 0.4 * p.gap
	}
	over := math.Inf(-1)
	for k := range l.Parts {
		part := &l.Parts[k]
		part.y = p.y
		switch {
		case part.Head:
			p.head(c)
			p.verdict(c)
			p.paragraph(c.Summary, p.body())
			p.y += 0.4 * p.gap
		case part.Figures != nil:
			p.y += part.tall + p.gap
		}
		for _, s := range part.Wide {
			p.section(s)
		}
		p.columns(part)
		if part.Remarks {
			const least = 11.0 // two lines of handwriting below the title
			over = p.remarks(last-1) + least
		}
	}
	(&pen{l, p.x, p.w, last}).paragraph(foot, in)
	return max(over, p.y-last)
}

// head writes the title, which tells the code, and the room for date and name.
func (p *pen) head(c *Content) {
	title := face{p.value, true}
	blanks := []struct {
		name  string
		width float64
	}{{"date", 28}, {"set by", 36}}
	if !c.Works {
		blanks = blanks[:1]
	}
	right := 0.0
	for _, b := range blanks {
		right += b.width + 2
	}
	inner := pen{p.layout, p.x, p.w - right - 2, p.y}
	inner.paragraph(c.Title+"  "+c.Label, title)
	const tall = 11.5
	x := p.x + p.w - right + 2
	for _, b := range blanks {
		p.fields = append(p.fields, field{x, p.y, b.width, tall, 1, 0.25})
		p.write(x+0.8, p.y+0.4, b.name, face{size: smallest})
		x += b.width + 2
	}
	p.y = max(inner.y, p.y+tall) + 0.4*p.gap
}

// smallest is the size of the smallest letters on the sheet (points).
const smallest = 7.5

// verdict writes the answer in large words: white on black if it does not work.
func (p *pen) verdict(c *Content) {
	in := face{p.value, true}
	if c.Works {
		p.paragraph(c.Verdict, in)
		return
	}
	const pad = 1.2
	lines := p.lines(c.Verdict, in, p.w-4)
	tall := float64(len(lines))*in.row() + 2*pad
	p.fields = append(p.fields, field{x: p.x, y: p.y, w: p.w, h: tall})
	for i, words := range lines {
		p.put(text{x: p.x + 2, y: p.y + pad + float64(i)*in.row(), face: in, white: true, words: words})
	}
	p.y += tall + 0.8
}

// columns writes sections down two columns, the left one first.
func (p *pen) columns(part *Part) {
	const apart = 5
	w := (p.w - apart) / 2
	if part.Columns != nil {
		n := leftOf(each(part.Columns, func(s Section) float64 {
			trial := pen{&layout{fonts: p.fonts, step: p.step}, 0, w, 0}
			trial.section(s)
			return trial.y
		}))
		part.Left, part.Right = part.Columns[:n], part.Columns[n:]
	}
	left, right := pen{p.layout, p.x, w, p.y}, pen{p.layout, p.x + w + apart, w, p.y}
	for _, s := range part.Left {
		left.section(s)
	}
	for _, s := range part.Right {
		right.section(s)
	}
	p.y = max(left.y, right.y)
}

// leftOf returns how many of several heights to put into the left of two columns, the others
// into the right, so that the taller column is least tall.
func leftOf(tall []float64) (n int) {
	left, right := 0.0, 0.0
	for _, h := range tall {
		right += h
	}
	for _, h := range tall {
		if left+h > right { // it would make the left the taller, by more than the right is now
			break
		}
		left, right, n = left+h, right-h, n+1
	}
	return n
}

// remarks writes the room for them down to a height, and returns by how much that is
// above where it begins (mm).
func (p *pen) remarks(down float64) float64 {
	tall := down - p.y
	p.fields = append(p.fields, field{p.x, p.y, p.w, tall, 1, 0.25})
	p.write(p.x+0.8, p.y+0.4, "remarks", face{size: smallest})
	return -tall
}
