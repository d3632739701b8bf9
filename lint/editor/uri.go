package editor

import (
	"fmt"
	"net/url"
	"path/filepath"
	"runtime"
	"strings"
	"unicode"
)

// longest is how many bytes the path of a file may have (Linux takes as many).
const longest = 4096

// pathOf is the file that a URI names (RFC 8089), an absolute path.
func pathOf(uri string) (string, error) {
	u, err := url.Parse(uri)
	switch {
	case err != nil:
		return "", fmt.Errorf("%q is no URI", uri)
	case u.Scheme != "file" || u.Opaque != "":
		return "", fmt.Errorf("%q names no file on this machine", uri)
	case u.Host != "" && u.Host != "localhost":
		return "", fmt.Errorf("%q names a file on another machine", uri)
	}
	name := u.Path
	if runtime.GOOS == "windows" {
		name = strings.TrimPrefix(name, "/") // of /C:/builds
	}
	name = filepath.FromSlash(name)
	if !filepath.IsAbs(name) || len(name) > longest || strings.ContainsFunc(name, unicode.IsControl) {
		return "", fmt.Errorf("%q names no file on this machine", uri)
	}
	return filepath.Clean(name), nil
}

// uriOf names a file.
func uriOf(name string) string {
	name = filepath.ToSlash(name)
	if !strings.HasPrefix(name, "/") {
		name = "/" + name
	}
	return (&url.URL{Scheme: "file", Path: name}).String()
}

// settled is a path without links in its folders, as far as those are there: one
// file has one path, however an editor came to it.
func settled(name string) string {
	dir, rest := filepath.Dir(name), filepath.Base(name)
	for {
		if real, err := filepath.EvalSymlinks(dir); err == nil {
			return filepath.Join(real, rest)
		}
		if dir == filepath.Dir(dir) {
			return name
		}
		dir, rest = filepath.Dir(dir), filepath.Join(filepath.Base(dir), rest)
	}
}
