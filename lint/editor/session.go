package editor

import (
	"encoding/json"
	"slices"
)

// requests are the messages that are answered.
func requests() map[string]method {
	return map[string]method{
		"initialize": on((*server).initialize),
		"shutdown":   on((*server).shutdown),

		"textDocument/hover":          on((*server).hover),
		"textDocument/completion":     on((*server).complete),
		"textDocument/definition":     on((*server).definition),
		"textDocument/references":     on((*server).references),
		"textDocument/prepareRename":  on((*server).prepareRename),
		"textDocument/rename":         on((*server).rename),
		"textDocument/documentSymbol": on((*server).documentSymbols),
		"textDocument/codeAction":     on((*server).codeActions),
		"textDocument/codeLens":       on((*server).codeLenses),
		"workspace/symbol":            on((*server).workspaceSymbols),
	}
}

// notes are the messages that are taken note of.
func notes() map[string]method {
	return map[string]method{
		"initialized":                     note((*server).ready),
		"textDocument/didOpen":            note((*server).didOpen),
		"textDocument/didChange":          note((*server).didChange),
		"textDocument/didClose":           note((*server).didClose),
		"textDocument/didSave":            note((*server).didSave),
		"workspace/didChangeWatchedFiles": note((*server).filesChanged),
	}
}

type object = map[string]any

// initialize agrees with the editor on what both can do.
func (s *server) initialize(p *initializeParams) (any, error) {
	s.client, s.initialized = *p, true
	if slices.Contains(p.Capabilities.General.PositionEncodings, string(UTF8)) {
		s.encoding = UTF8
	}
	folders := p.Folders
	if len(folders) == 0 && p.RootURI != "" {
		folders = []workspaceFolder{{p.RootURI}}
	}
	for _, f := range folders {
		if path, err := pathOf(f.URI); err == nil {
			s.roots = append(s.roots, settled(path))
		}
	}
	const incremental = 2
	return object{
		"serverInfo": object{"name": "fishplate", "version": s.opt.Version},
		"capabilities": object{
			"positionEncoding":        s.encoding,
			"textDocumentSync":        object{"openClose": true, "change": incremental, "save": object{"includeText": false}},
			"hoverProvider":           true,
			"completionProvider":      object{"triggerCharacters": []string{"[", ".", "\"", " ", "/"}},
			"definitionProvider":      true,
			"referencesProvider":      true,
			"renameProvider":          object{"prepareProvider": true},
			"documentSymbolProvider":  true,
			"workspaceSymbolProvider": true,
			"codeActionProvider":      object{"codeActionKinds": []string{quickFix, refactor}},
			"codeLensProvider":        object{},
		},
	}, nil
}

// ready asks to be told of files that change on disk, of an editor that can be asked.
func (s *server) ready(*struct{}) error {
	if s.client.Capabilities.Workspace.WatchedFiles.Dynamic {
		s.ask("client/registerCapability", object{"registrations": []object{{
			"id": "files", "method": "workspace/didChangeWatchedFiles",
			"registerOptions": object{"watchers": []object{{"globPattern": "**/*.toml"}}},
		}}})
	}
	return nil
}

func (s *server) shutdown(*json.RawMessage) (any, error) {
	s.shut = true
	for _, b := range s.builds {
		b.close()
	}
	return nil, nil
}
