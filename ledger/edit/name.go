package edit

import (
	"fmt"
	"path"
	"path/filepath"
	"strings"
)

// localTOML refuses the name of a file that would not be read as a part of
// the build: it must end in .toml, and neither leave the build folder nor be
// hidden.
func localTOML(name string) error {
	switch {
	case !filepath.IsLocal(filepath.FromSlash(name)) || path.Clean(name) != name:
		return fmt.Errorf("%s: leads outside the build folder, where nothing is written", name)
	case !strings.EqualFold(path.Ext(name), ".toml"):
		return fmt.Errorf("%s: is no TOML file", name)
	case strings.HasPrefix(name, ".") || strings.Contains(name, "/."):
		return fmt.Errorf("%s: is hidden, and would not be read", name)
	}
	return nil
}

// Fit tells what is wrong with the name of a file that new entries are to go
// to, slash-separated and relative to the build folder; nil where nothing is.
func Fit(name string) error { return localTOML(name) }
