package editor

import "encoding/json"

// The parts of the protocol that are spoken, by its names.

// Position is a place in a text: a line and a number of code units, both from 0.
type Position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

// Range is from one place to another, which is not in it.
type Range struct {
	Start Position `json:"start"`
	End   Position `json:"end"`
}

// Location is a range of a file.
type Location struct {
	URI   string `json:"uri"`
	Range Range  `json:"range"`
}

type textDocument struct {
	URI     string `json:"uri"`
	Version *int   `json:"version"`
	Text    string `json:"text"`
}

// place is what most requests are about.
type placeParams struct {
	TextDocument textDocument `json:"textDocument"`
	Position     Position     `json:"position"`
}

type workspaceFolder struct {
	URI string `json:"uri"`
}

type initializeParams struct {
	RootURI      string            `json:"rootUri"`
	Folders      []workspaceFolder `json:"workspaceFolders"`
	Capabilities struct {
		General struct {
			PositionEncodings []string `json:"positionEncodings"`
		} `json:"general"`
		TextDocument struct {
			Hover struct {
				ContentFormat []string `json:"contentFormat"`
			} `json:"hover"`
			PublishDiagnostics struct {
				RelatedInformation bool `json:"relatedInformation"`
			} `json:"publishDiagnostics"`
			CodeAction struct {
				Literals json.RawMessage `json:"codeActionLiteralSupport"`
			} `json:"codeAction"`
		} `json:"textDocument"`
		Workspace struct {
			WatchedFiles struct {
				Dynamic bool `json:"dynamicRegistration"`
			} `json:"didChangeWatchedFiles"`
			CodeLens struct {
				Refresh bool `json:"refreshSupport"`
			} `json:"codeLens"`
			Edit struct {
				DocumentChanges bool `json:"documentChanges"`
			} `json:"workspaceEdit"`
		} `json:"workspace"`
	} `json:"capabilities"`
}

type didOpenParams struct {
	TextDocument textDocument `json:"textDocument"`
}

type didChangeParams struct {
	TextDocument textDocument    `json:"textDocument"`
	Changes      []contentChange `json:"contentChanges"`
}

// contentChange puts a text in the place of a range, or of the whole file.
type contentChange struct {
	Range *Range `json:"range"`
	Text  string `json:"text"`
}

// Severity is how grave a diagnostic is.
type Severity int

// The severities.
const (
	Error Severity = iota + 1
	Warning
	Information
	Hint
)

// Diagnostic is something wrong, or open, at a place of a file.
type Diagnostic struct {
	Range    Range     `json:"range"`
	Severity Severity  `json:"severity"`
	Code     string    `json:"code,omitempty"`
	Source   string    `json:"source"`
	Message  string    `json:"message"`
	Related  []Related `json:"relatedInformation,omitempty"`
}

// Related is another place that has to do with a diagnostic.
type Related struct {
	Location Location `json:"location"`
	Message  string   `json:"message"`
}

type publishParams struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version,omitempty"`
	Diagnostics []Diagnostic `json:"diagnostics"`
}

type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

type hover struct {
	Contents markup `json:"contents"`
	Range    *Range `json:"range,omitempty"`
}

// The kinds of what is offered for completion, of those that the protocol has.
const (
	offersProperty  = 10
	offersUnit      = 11
	offersValue     = 12
	offersWord      = 20 // an enum's member
	offersEntry     = 18 // a reference
	offersStructure = 22
)

type completionItem struct {
	Label         string    `json:"label"`
	Kind          int       `json:"kind"`
	Detail        string    `json:"detail,omitempty"`
	Documentation *markup   `json:"documentation,omitempty"`
	SortText      string    `json:"sortText"`
	FilterText    string    `json:"filterText"`
	TextEdit      *TextEdit `json:"textEdit"`
}

type completionList struct {
	IsIncomplete bool             `json:"isIncomplete"`
	Items        []completionItem `json:"items"`
}

type referenceParams struct {
	placeParams
	Context struct {
		Declaration bool `json:"includeDeclaration"`
	} `json:"context"`
}

type renameParams struct {
	placeParams
	NewName string `json:"newName"`
}

type renameRange struct {
	Range       Range  `json:"range"`
	Placeholder string `json:"placeholder"`
}

// TextEdit puts a text in the place of a range.
type TextEdit struct {
	Range   Range  `json:"range"`
	NewText string `json:"newText"`
}

type versioned struct {
	URI     string `json:"uri"`
	Version *int   `json:"version"`
}

// documentEdit changes one file. The one that makes a file comes before it.
type documentEdit struct {
	Kind         string     `json:"kind,omitempty"` // "create", or "" of edits
	URI          string     `json:"uri,omitempty"`  // of a file that is to be made
	TextDocument *versioned `json:"textDocument,omitempty"`
	Edits        []TextEdit `json:"edits,omitempty"`
}

// workspaceEdit changes files: with their versions, or, of an editor that does not
// know of those, without.
type workspaceEdit struct {
	DocumentChanges []documentEdit        `json:"documentChanges,omitempty"`
	Changes         map[string][]TextEdit `json:"changes,omitempty"`
}

// The kinds of symbols, of those that the protocol has.
const (
	symbolOfSystem = 3  // a namespace
	symbolOfEntry  = 23 // a struct
)

type documentSymbol struct {
	Name           string           `json:"name"`
	Detail         string           `json:"detail,omitempty"`
	Kind           int              `json:"kind"`
	Range          Range            `json:"range"`
	SelectionRange Range            `json:"selectionRange"`
	Children       []documentSymbol `json:"children,omitempty"`
}

type workspaceSymbol struct {
	Name      string   `json:"name"`
	Kind      int      `json:"kind"`
	Location  Location `json:"location"`
	Container string   `json:"containerName,omitempty"`
}

type codeActionParams struct {
	TextDocument textDocument `json:"textDocument"`
	Range        Range        `json:"range"`
	Context      struct {
		Only []string `json:"only"`
	} `json:"context"`
}

type codeAction struct {
	Title     string         `json:"title"`
	Kind      string         `json:"kind"`
	Preferred bool           `json:"isPreferred,omitempty"`
	Edit      *workspaceEdit `json:"edit"`
}

type command struct {
	Title   string `json:"title"`
	Command string `json:"command"`
}

type codeLens struct {
	Range   Range   `json:"range"`
	Command command `json:"command"`
}

// The codes of errors that the protocol adds to those of JSON-RPC.
const (
	codeNotInitialized = -32002
	codeCancelled      = -32800
	codeRequestFailed  = -32803
)
