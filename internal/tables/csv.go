package tables

import (
	"bufio"
	"io"
	"strings"

	"corymb/internal/tables/formula"
)

// byteOrderMark is how spreadsheets know UTF-8.
const byteOrderMark = "\ufeff"

// WriteCSV writes a table as RFC 4180 has it, in UTF-8 with a byte order mark, in the flavour of a language. Text that a
// spreadsheet would take for a formula is guarded; numbers never are.
func (t Table) WriteCSV(to io.Writer, l Language) error {
	w := bufio.NewWriter(to)
	comma := ","
	if l == Spanish {
		comma = ";"
	}
	_, _ = w.WriteString(byteOrderMark) // Flush tells
	for i, column := range t.Columns {
		if i > 0 {
			_, _ = w.WriteString(comma)
		}
		_, _ = w.WriteString(quoted(column.In(l)))
	}
	_, _ = w.WriteString("\r\n")
	for _, row := range t.Rows {
		for i, cell := range row {
			if i > 0 {
				_, _ = w.WriteString(comma)
			}
			_, _ = w.WriteString(quoted(cell.in(l)))
		}
		_, _ = w.WriteString("\r\n")
	}
	return w.Flush()
}

// FileName is what a table's file is called in a language.
func (t Table) FileName(l Language) string { return t.Name.In(l) + ".csv" }

func (c Cell) in(l Language) string {
	switch {
	case c.kind == isNumber && l == Spanish:
		return strings.Replace(c.text, ".", ",", 1)
	case c.kind == isYes && c.text == "yes" && l == Spanish:
		return "sí"
	case c.spanish != "" && l == Spanish:
		return c.spanish
	case c.kind == isText:
		return formula.Guard(c.text)
	default:
		return c.text
	}
}

func quoted(text string) string {
	if !strings.ContainsAny(text, "\",;\t\r\n") && strings.TrimSpace(text) == text {
		return text
	}
	return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
}
