package editor

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"

	"github.com/sourcegraph/jsonrpc2"
)

// maxMessage is how many bytes a message may have: more than any file that is
// read, however it is spelled.
const maxMessage = 16 << 20

// stream is the messages of an editor, each behind a header that tells its length.
// One that is no message is answered here, and the next is read.
type stream struct {
	in   *bufio.Reader
	mu   sync.Mutex
	out  io.Writer
	done func() // before the end of the input is told
}

func (s *stream) ReadObject(v any) error {
	for {
		body, err := s.body()
		if err != nil {
			s.done()
			return err
		}
		if err = json.Unmarshal(body, v); err == nil {
			return nil
		}
		answer := refusal{Version: "2.0", ID: idOf(body)}
		answer.Error.Code, answer.Error.Message = jsonrpc2.CodeInvalidRequest, "no request: "+err.Error()
		if !json.Valid(body) {
			answer.Error.Code, answer.Error.Message = jsonrpc2.CodeParseError, "no JSON: "+err.Error()
		}
		if err := s.WriteObject(answer); err != nil {
			return err
		}
	}
}

// refusal is the answer to what is no request.
type refusal struct {
	Version string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Error   struct {
		Code    int    `json:"code"`
		Message string `json:"message"`
	} `json:"error"`
}

// idOf is the id that something has which is no request, null where it has none.
func idOf(body []byte) json.RawMessage {
	var m struct{ ID json.RawMessage }
	if json.Unmarshal(body, &m) != nil || len(m.ID) == 0 || m.ID[0] == '{' || m.ID[0] == '[' {
		return json.RawMessage("null")
	}
	return m.ID
}

var errHeader = errors.New("a message without a length")

// body reads the next message.
func (s *stream) body() ([]byte, error) {
	length := -1
	for {
		line, err := s.in.ReadSlice('\n')
		if err != nil {
			if errors.Is(err, bufio.ErrBufferFull) {
				err = errHeader
			}
			return nil, err
		}
		head := strings.TrimSpace(string(line))
		if head == "" {
			break
		}
		if name, value, ok := strings.Cut(head, ":"); ok && strings.EqualFold(name, "Content-Length") {
			if length, err = strconv.Atoi(strings.TrimSpace(value)); err != nil || length < 0 || length > maxMessage {
				return nil, fmt.Errorf("a message of %q bytes", value)
			}
		}
	}
	if length < 0 {
		return nil, errHeader
	}
	body := make([]byte, length)
	_, err := io.ReadFull(s.in, body)
	return body, err
}

func (s *stream) WriteObject(v any) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return jsonrpc2.VSCodeObjectCodec{}.WriteObject(s.out, v)
}

func (s *stream) Close() error { return nil }
