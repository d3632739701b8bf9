package syntax

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/BurntSushi/toml"
)

// decode runs BurntSushi/toml over src. A panic inside it comes back as an
// error: it panics with a note of a bug where it contradicts itself.
func decode(src string) (values map[string]any, err error) {
	defer func() {
		if bug := recover(); bug != nil {
			err = fmt.Errorf("internal error: the TOML decoder failed: %v", bug)
		}
	}()
	var v any // spares the copy that a map type would cost
	if _, err := toml.Decode(src, &v); err != nil {
		return nil, err
	}
	values, ok := v.(map[string]any)
	if !ok {
		return nil, fmt.Errorf("internal error: the file decodes to %T", v)
	}
	return values, nil
}

// fill asks BurntSushi/toml for the values that the walk did not read. In a
// file that is refused it decodes them one by one, to tell all that are wrong.
func (r *reader) fill() {
	if r.refused {
		r.fillAlone()
		return
	}
	if r.unsure == 0 {
		return
	}
	if r.unsure <= fewUnsure {
		r.fillAlone()
		return
	}
	values, err := decode(r.src)
	if err == nil {
		r.fillTable(r.root, values)
		return
	}
	r.fillAlone()
	if !r.refused {
		offset, message := r.decodeError(err, 0)
		r.refuse(r.at(offset), "%s", message)
	}
}

// decodeError gives the offset in src and the message of an error that decode
// returned for the part of src that starts at base.
func (r *reader) decodeError(err error, base int) (offset int, message string) {
	var parse toml.ParseError
	if !errors.As(err, &parse) {
		return base, strings.TrimPrefix(err.Error(), "toml: ")
	}
	// Start, not Line and Col: the deprecated Line holds a length in some
	// paths, and Col is made from Start anyway.
	return r.runeStart(base + parse.Position.Start), plainMessage(parse.Message)
}

func (r *reader) fillTable(n *Node, values map[string]any) {
	for _, c := range n.Children {
		v, ok := values[c.Key]
		if !ok {
			r.refuse(c.KeyAt, "internal error: the key %s has a place but no value", quoteKey(c.Key))
			continue
		}
		r.fillNode(c, v)
	}
	if len(values) > len(n.Children) {
		for key := range values {
			if n.Child(key) == nil {
				r.refuse(n.KeyAt, "internal error: the key %s has a value but no place", quoteKey(key))
			}
		}
	}
}

func (r *reader) fillNode(n *Node, v any) {
	kind := Date
	switch v := v.(type) {
	case map[string]any:
		if n.Kind == Table {
			r.fillTable(n, v)
			return
		}
		kind = Table
	case []any:
		if n.Kind == Array && len(n.Children) == len(v) {
			for i, c := range n.Children {
				r.fillNode(c, v[i])
			}
			return
		}
		kind = Array
	case []map[string]any:
		if n.Kind == Array && len(n.Children) == len(v) {
			for i, c := range n.Children {
				r.fillNode(c, v[i])
			}
			return
		}
		kind = Array
	case string:
		kind = String
	case int64:
		kind = Integer
	case float64:
		kind = Float
	case bool:
		kind = Bool
	case time.Time:
		r.checkOffset(n)
	}
	if kind != n.Kind || kind == Array || kind == Table {
		r.refuse(n.ValueAt, "internal error: %s was decoded as %s", n.Kind.withArticle(), kind.withArticle())
		return
	}
	n.Value = v
}

// checkOffset refuses the offsets that Go's time package lets by: +24:00 and
// +12:60 (RFC 3339, section 5.6, time-hour and time-minute; corpus
// datetime/offset-overflow-minute).
func (r *reader) checkOffset(n *Node) {
	s := n.Text
	i := len(s) - len("+00:00")
	if i < len("2006-01-02T15:04") || s[i] != '+' && s[i] != '-' {
		return
	}
	if s[i+1:i+3] > "23" || s[i+4:] > "59" {
		r.refuse(n.ValueAt, "invalid date and time %s: an offset has hours up to 23 and minutes up to 59", s)
	}
}

// fillAlone decodes each value by itself, up to maxAlone of them.
func (r *reader) fillAlone() {
	left := maxAlone
	r.fillAloneBelow(r.root, &left)
}

func (r *reader) fillAloneBelow(n *Node, left *int) {
	for _, c := range n.Children {
		if c.Kind == Table || c.Kind == Array {
			r.fillAloneBelow(c, left)
			continue
		}
		if *left == 0 || c.Text == "" || c.Value != nil {
			continue
		}
		*left--
		values, err := decode("v = " + c.Text + "\n")
		if err == nil {
			r.fillNode(c, values["v"])
			continue
		}
		_, message := r.decodeError(err, 0)
		r.refuse(c.ValueAt, "%s", message)
	}
}
