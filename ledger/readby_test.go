package ledger_test

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/golden"
	"fishplate/ledger/schema"
)

// TestRecordedOnly: recorded.txt lists the keys that no check reads.
func TestRecordedOnly(t *testing.T) {
	golden.Check(t, "recorded.txt", strings.Join(recordedOnly(t), "\n")+"\n")
}

// recordedOnly are the keys that no check reads, as "part.made.by". They are found
// in the program's own source: all but what the rules and the engine select of
// the views, by themselves or by what they call in package ledger.
func recordedOnly(t *testing.T) []string {
	read := keysRead(t)
	require.Greater(t, len(read), 200)
	var out []string
	fields(func(name string, f *schema.Field) {
		if !read[name] && f.Type != schema.Table && !f.Format && ledger.KindOf(name).Like != f {
			out = append(out, name)
		}
	})
	return out
}

// keysRead are the keys, as "part.made.by", that checks read.
func keysRead(t *testing.T) map[string]bool {
	p := &program{t: t, fset: token.NewFileSet(), list: map[string]listed{}, done: map[string]*types.Package{}, uses: map[types.Object][]types.Object{}}
	p.load("fishplate/rules", "fishplate/lint")
	var roots []types.Object
	for path := range p.done {
		if path == "fishplate/lint" || strings.HasPrefix(path, "fishplate/rules") && path != "fishplate/rules/refdata" {
			roots = append(roots, p.decls(path)...)
		}
	}
	selected := p.reach(roots)
	out := map[string]bool{}
	scope := p.done["fishplate/ledger"].Scope()
	for _, k := range ledger.Kinds() {
		tagged(k.Name, scope.Lookup(k.View.Name()).Type(), func(name string, v *types.Var) {
			if selected[v] {
				out[name] = true
			}
		})
	}
	return out
}

// tagged goes through the fields of a view that are keys, and of the tables in it.
func tagged(prefix string, t types.Type, yield func(name string, v *types.Var)) {
	for {
		switch u := t.(type) {
		case *types.Slice:
			t = u.Elem()
			continue
		case *types.Map:
			t = u.Elem()
			continue
		}
		break
	}
	s, ok := t.Underlying().(*types.Struct)
	if !ok {
		return
	}
	for i := range s.NumFields() {
		if key := reflect.StructTag(s.Tag(i)).Get("key"); key != "" {
			yield(prefix+"."+key, s.Field(i))
			tagged(prefix+"."+key, s.Field(i).Type(), yield)
		}
	}
}

// program is the program's own source with its types.
type program struct {
	t    *testing.T
	fset *token.FileSet
	list map[string]listed
	done map[string]*types.Package
	libs types.Importer
	uses map[types.Object][]types.Object // of each declaration, what it names
}

type listed struct {
	ImportPath, Export, Dir string
	GoFiles                 []string
	Module                  *struct{ Main bool }
}

func (p *program) load(packages ...string) {
	out, err := exec.Command("go", append([]string{"list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles,Module"}, append(packages, packages[0]+"/...")...)...).Output()
	require.NoError(p.t, err)
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var l listed
		if err := d.Decode(&l); err == io.EOF {
			break
		} else {
			require.NoError(p.t, err)
		}
		p.list[l.ImportPath] = l
	}
	p.libs = importer.ForCompiler(p.fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(p.list[path].Export) })
	for path, l := range p.list {
		if l.Module != nil && l.Module.Main {
			_, err := p.Import(path)
			require.NoError(p.t, err)
		}
	}
}

// Import reads a package of the program from its source, any other from what the
// compiler made of it.
func (p *program) Import(path string) (*types.Package, error) {
	l := p.list[path]
	if l.Module == nil || !l.Module.Main {
		return p.libs.Import(path)
	}
	if done := p.done[path]; done != nil {
		return done, nil
	}
	var files []*ast.File
	for _, name := range l.GoFiles {
		f, err := parser.ParseFile(p.fset, filepath.Join(l.Dir, name), nil, 0)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	info := &types.Info{Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}
	pkg, err := (&types.Config{Importer: p}).Check(path, p.fset, files, info)
	p.done[path] = pkg
	for _, f := range files {
		for _, d := range f.Decls {
			p.note(d, info)
		}
	}
	return pkg, err
}

// note keeps what a declaration names, under everything that it declares.
func (p *program) note(d ast.Decl, info *types.Info) {
	var declared, named []types.Object
	switch d := d.(type) {
	case *ast.FuncDecl:
		declared = append(declared, info.Defs[d.Name])
	case *ast.GenDecl:
		for _, s := range d.Specs {
			if v, ok := s.(*ast.ValueSpec); ok {
				for _, n := range v.Names {
					declared = append(declared, info.Defs[n])
				}
			}
		}
	}
	ast.Inspect(d, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && info.Uses[id] != nil {
			named = append(named, origin(info.Uses[id]))
		}
		return true
	})
	for _, o := range declared {
		p.uses[o] = append(p.uses[o], named...)
	}
}

// origin is the declaration of an instance of a generic function or field.
func origin(o types.Object) types.Object {
	switch o := o.(type) {
	case *types.Func:
		return o.Origin()
	case *types.Var:
		return o.Origin()
	}
	return o
}

// decls are what a package declares.
func (p *program) decls(path string) []types.Object {
	var out []types.Object
	for o := range p.uses {
		if o != nil && o.Pkg() == p.done[path] {
			out = append(out, o)
		}
	}
	return out
}

// reach is all that some declarations name, directly or through what they name.
func (p *program) reach(roots []types.Object) map[types.Object]bool {
	seen := map[types.Object]bool{}
	for todo := slices.Clone(roots); len(todo) > 0; {
		o := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if o == nil || seen[o] {
			continue
		}
		seen[o] = true
		todo = append(todo, p.uses[o]...)
	}
	return seen
}
