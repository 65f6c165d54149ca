package grid

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
)

// Schema is the version of the JSON that WriteJSON writes.
const Schema = 1

type columnJSON struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Unit string `json:"unit,omitempty"`
	Type string `json:"type"`
}

// WriteJSON writes tables for programs: of each its columns, and one object a
// row by the keys of the columns. A cell that holds nothing is null.
func WriteJSON(w io.Writer, tables ...*Table) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "{\n \"schema\": %d,\n \"tables\": [", Schema)
	for i, t := range tables {
		if err := t.check(); err != nil {
			return err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n  {\"name\": " + quoted(t.Name) + ",\n   \"columns\": [")
		for k, c := range t.Columns {
			data, err := json.Marshal(columnJSON{c.Key(), c.Name, c.Unit, c.Type.String()})
			if err != nil {
				return err
			}
			b.WriteString(separator(k) + "\n    ")
			b.Write(data)
		}
		b.WriteString("],\n   \"rows\": [")
		for r := range t.Rows {
			b.WriteString(separator(r) + "\n    " + t.object(r))
		}
		b.WriteString("]}")
	}
	b.WriteString("\n ]\n}\n")
	return b.Flush()
}

// object is a row as one JSON object on one line.
func (t *Table) object(row int) string {
	s := "{"
	for i, c := range t.Columns {
		cell := t.cell(row, i)
		value := "null"
		switch cell.is {
		case number:
			value = c.Show(cell)
		case text:
			value = quoted(cell.text)
		}
		s += separator(i) + quoted(c.Key()) + ":" + value
	}
	return s + "}"
}

func separator(i int) string {
	if i > 0 {
		return ","
	}
	return ""
}

// quoted is a text as JSON has it. Markup is escaped: the file may be put into
// a page.
func quoted(s string) string {
	data, err := json.Marshal(s)
	if err != nil {
		return `""` // a string always marshals
	}
	return string(data)
}
