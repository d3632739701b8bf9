package shoprules

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/ast"
	"cel.dev/cel-go/common/env"
	"cel.dev/cel-go/common/operators"
	"cel.dev/cel-go/common/types"
)

// How long and how deep an expression may be. Practice, without a source: the
// longest of the examples has some 200 characters.
const (
	mostCharacters = 2000
	mostDepth      = 60
	mostNodes      = 500
)

// environments are the languages of rules, one a kind of entry that "it" may be;
// each is made when the first rule of the kind is met.
var environments sync.Map

func environment(it *fields) *cel.Env {
	made, _ := environments.LoadOrStore(it.name, sync.OnceValue(func() *cel.Env {
		e, err := plain().Extend(cel.Variable("it", it.typ))
		if err != nil {
			panic(err) // it is part of the program
		}
		return e
	}))
	return made.(func() *cel.Env)()
}

// plain is the language without "it".
var plain = sync.OnceValue(func() *cel.Env {
	e, err := cel.NewCustomEnv(slices.Concat(kept(), operatorOptions(), functionOptions(), kindOptions())...)
	if err != nil {
		panic(err)
	}
	return e
})

// kept is what is kept of the language, and its limits. No list of it grows but by
// a filter or a map, and no text at all.
func kept() []cel.EnvOption {
	var functions []*env.Function
	for _, name := range []string{
		operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot, operators.Conditional, operators.NotStrictlyFalse,
		operators.Equals, operators.NotEquals, operators.In, operators.Index, "size", "contains", "startsWith", "endsWith",
	} {
		functions = append(functions, env.NewFunction(name))
	}
	return []cel.EnvOption{
		cel.CustomTypeAdapter(adapter{}), cel.CustomTypeProvider(provider{}),
		cel.StdLib(cel.StdLibSubset(&env.LibrarySubset{IncludeFunctions: functions, DisableMacros: true})),
		cel.Macros(cel.AllMacro, cel.ExistsMacro, cel.ExistsOneMacro, cel.MapMacro, cel.MapFilterMacro, cel.FilterMacro),
		cel.ParserExpressionSizeLimit(mostCharacters), cel.ParserRecursionLimit(mostDepth),
		cel.ExpressionNodeLimit(mostNodes), cel.ExpressionNestingDepthLimit(mostDepth),
		cel.Variable("@run", runType),
	}
}

func operatorOptions() []cel.EnvOption {
	numbers := []*cel.Type{amountType, cel.IntType, cel.DoubleType}
	mixed := func(op string, result func(a, b *cel.Type) *cel.Type, extra ...cel.FunctionOpt) (out []cel.FunctionOpt) {
		for i, a := range numbers {
			for j, b := range numbers {
				if i == j || i == 0 || j == 0 {
					out = append(out, cel.Overload(op+a.TypeName()+b.TypeName(), []*cel.Type{a, b}, result(a, b)))
				}
			}
		}
		return append(out, extra...)
	}
	sum := func(a, b *cel.Type) *cel.Type {
		if a == b {
			return a
		}
		return amountType
	}
	list := cel.ListType(cel.TypeParamType("T"))
	texts := []*cel.Type{cel.StringType, cel.StringType}
	var out []cel.EnvOption
	for op := range operations {
		switch op {
		case operators.Negate:
			out = append(out, cel.Function(op, cel.Overload("neg_q", []*cel.Type{amountType}, amountType),
				cel.Overload("neg_i", []*cel.Type{cel.IntType}, cel.IntType), cel.Overload("neg_d", []*cel.Type{cel.DoubleType}, cel.DoubleType),
				cel.SingletonUnaryBinding(negate)))
		case operators.Add: // lists too: what filter and map gather is added so
			out = append(out, cel.Function(op, mixed(op, sum, cel.Overload("add_list", []*cel.Type{list, list}, list), cel.SingletonBinaryBinding(binary(op)))...))
		default:
			out = append(out, cel.Function(op, mixed(op, sum, cel.SingletonBinaryBinding(binary(op)))...))
		}
	}
	for op, c := range comparisons {
		truth := func(a, b *cel.Type) *cel.Type { return cel.BoolType }
		out = append(out, cel.Function(op, mixed(op, truth, cel.Overload(op+"text", texts, cel.BoolType), cel.SingletonBinaryBinding(c.holds))...))
	}
	return out
}

// taking is so many values of any type, behind the hidden run where there is one.
func taking(n int, run bool) []*cel.Type {
	var out []*cel.Type
	if run {
		out = append(out, runType)
	}
	for range n {
		out = append(out, cel.DynType)
	}
	return out
}

// functionOptions declares the functions. What they take is seen to before by the
// phantoms (walk.go), which know dimensions.
func functionOptions() []cel.EnvOption {
	out := []cel.EnvOption{
		cel.Function("@q", cel.Overload("q_text", []*cel.Type{runType, cel.StringType}, amountType, cel.BinaryBinding(literal))),
		cel.Function("pow", cel.Overload("pow_any", taking(2, false), amountType, cel.BinaryBinding(power))),
		cel.Function("reads", cel.Overload("reads_any", taking(2, false), cel.BoolType, cel.BinaryBinding(reads))),
		cel.Function("@conductor_area", cel.Overload("conductor_area_any", taking(1, true), amountType, cel.BinaryBinding(conductorArea))),
		cel.Function("entry_name", cel.Overload("entry_name_any", taking(1, false), cel.StringType, cel.UnaryBinding(entryName))),
		cel.Function("@has", cel.Overload("has_key", []*cel.Type{cel.DynType, cel.StringType, cel.IntType}, cel.BoolType, cel.FunctionBinding(has))),
		cel.Function("@figure", cel.Overload("figure_any", []*cel.Type{runType, cel.StringType, cel.DynType, cel.StringType}, amountType, cel.FunctionBinding(figure))),
		cel.Macros(cel.GlobalMacro("q", 1, handed("@q", 1)), cel.GlobalMacro("conductor_area", 1, handed("@conductor_area", 1)), cel.GlobalMacro("has", 1, hasMacro),
			cel.GlobalMacro("figure", 2, handed("@figure", 3)), cel.GlobalMacro("figure", 3, handed("@figure", 3))),
	}
	for _, f := range Functions {
		if f.sum == nil && f.Name != "sum" {
			continue
		}
		var over []cel.FunctionOpt
		for n := f.least; n <= f.most; n++ {
			over = append(over, cel.Overload(f.Name+string(rune('0'+n)), taking(n, true), amountType))
			out = append(out, cel.Macros(cel.GlobalMacro(f.Name, n, handed("@"+f.Name, n))))
		}
		out = append(out, cel.Function("@"+f.Name, append(over, cel.SingletonFunctionBinding(several(f)))...))
	}
	return out
}

// handed calls a function with the run before its values; those that are left out
// are empty texts.
func handed(name string, values int) cel.MacroFactory {
	return func(f cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *cel.Error) {
		all := append([]ast.Expr{f.NewIdent("@run")}, args...)
		for len(all) <= values {
			all = append(all, f.NewLiteral(types.String("")))
		}
		return f.NewCall(name, all...), nil
	}
}

// hasMacro asks of an entry and the name of a key, with where that stands.
func hasMacro(f cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *cel.Error) {
	if args[0].Kind() != ast.SelectKind {
		return nil, f.NewError(args[0].ID(), "has takes a key of an entry, such as has(it.mass)")
	}
	s := args[0].AsSelect()
	return f.NewCall("@has", s.Operand(), f.NewLiteral(types.String(s.FieldName())), f.NewLiteral(types.Int(args[0].ID()))), nil
}

// kindOptions declares how expressions come by entries.
func kindOptions() (out []cel.EnvOption) {
	for _, name := range slices.Sorted(maps.Keys(singles())) {
		out = append(out, cel.Variable(name, singles()[name].typ))
	}
	for _, name := range slices.Sorted(maps.Keys(lists())) {
		f := lists()[name]
		one := spelled(f.kind.Name)
		out = append(out,
			cel.Variable(name, cel.ListType(f.typ)),
			cel.Function("@"+one, cel.Overload("named_"+one, []*cel.Type{runType, cel.StringType}, f.typ, cel.BinaryBinding(named(f)))),
			cel.Macros(
				cel.GlobalMacro(strings.TrimPrefix(name, "@"), 0, func(f cel.MacroExprFactory, _ ast.Expr, _ []ast.Expr) (ast.Expr, *cel.Error) {
					return f.NewIdent(name), nil
				}),
				cel.GlobalMacro(one, 1, handed("@"+one, 1))))
	}
	return out
}

// programOptions are those of every program.
func programOptions() []cel.ProgramOption {
	return []cel.ProgramOption{cel.CostLimit(mostSteps)}
}
