package edit

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"

	"fishplate/ledger/revision"
)

// journal is what a change of several files leaves behind where it was cut
// short. It tells all of them, and all that is to stand in them.
type journal struct {
	Files []journaled `json:"files"`
}

type journaled struct {
	Name string      `json:"name"`
	Mode fs.FileMode `json:"mode"`
	Old  string      `json:"old"` // SHA-256; "" where there was no file
	Text []byte      `json:"text"`
}

// maxJournal is the largest journal in bytes that is read.
const maxJournal = 32 << 20

// announce writes the journal. Once it is there the change is made: what does
// not come to its end is completed by the next writer.
func (h *Hold) announce(outs []output) error {
	var j journal
	for _, o := range outs {
		j.Files = append(j.Files, journaled{o.name, o.mode, o.hash, o.new})
	}
	data, err := json.Marshal(j)
	if err != nil {
		return err
	}
	temp := revision.Journal + ".new"
	if err = create(h.disk, temp, data, 0o600); err == nil {
		err = h.disk.Rename(temp, revision.Journal)
	}
	if err != nil {
		if gone := h.disk.Remove(temp); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
		return err
	}
	if err = h.disk.SyncFolder("."); err != nil {
		return errors.Join(err, h.settle())
	}
	return nil
}

// settle takes the journal away.
func (h *Hold) settle() error {
	if err := h.disk.Remove(revision.Journal); err != nil {
		return err
	}
	return h.disk.SyncFolder(".")
}

// recover completes a change of several files that was cut short. A journal is
// no more to be trusted than the ledger that it lies in: it writes TOML files
// of this folder, and only over what it says that it was made from.
func (h *Hold) recover() error {
	info, err := h.disk.Lstat(revision.Journal)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() || info.Size() > maxJournal {
		return fmt.Errorf("%s is not of fishplate's making: look at it, and remove it", revision.Journal)
	}
	data, err := h.disk.ReadFile(revision.Journal)
	if err != nil {
		return err
	}
	var j journal
	if err := json.Unmarshal(data, &j); err != nil {
		return fmt.Errorf("%s cannot be read (%v): look at it, and remove it", revision.Journal, err)
	}
	outs, err := h.unfinished(j)
	if err != nil {
		return err
	}
	if err := h.prepare(outs); err != nil {
		return err
	}
	for _, o := range outs {
		if err := h.disk.Rename(o.temp(), o.name); err != nil {
			return &Unwritten{o.name, err}
		}
	}
	if err := h.syncFolders(outs); err != nil {
		return err
	}
	return h.settle()
}

// unfinished are the files of a journal that do not yet hold what it says.
func (h *Hold) unfinished(j journal) ([]output, error) {
	var outs []output
	for _, f := range j.Files {
		o, err := h.output(f.Name)
		switch {
		case err != nil:
			return nil, &Unwritten{f.Name, err}
		case o.hash == hashOf(f.Text):
			continue
		case o.hash != f.Old:
			return nil, fmt.Errorf("a change of %d files was cut short, and %s was changed since: put them right by hand, and remove %s", len(j.Files), f.Name, revision.Journal)
		}
		o.new, o.mode = f.Text, f.Mode.Perm()
		outs = append(outs, o)
	}
	return outs, nil
}
