package lint

import (
	"cmp"
	"container/heap"
	"slices"
)

// reason is a reason that checks are open for, and the checks that have it.
type reason struct {
	id     string
	checks []*Result
	at     []int // where each stands among all reasons of all checks
	open   int   // how many of the checks are not taken yet
	next   int   // those before it are taken

	stood [2]int // open and place, as the queue last saw them
}

// queue gives reasons, that of most checks first; of equally many, that of the
// first check. Checks that are taken count no more.
type queue struct {
	by     map[string]*reason
	taken  map[*Result]bool
	heap   []*reason
	number int
}

func (q *queue) note(r *Result, ids []string) {
	for _, id := range ids {
		x := q.by[id]
		if x == nil {
			x = &reason{id: id}
			q.by[id] = x
			q.heap = append(q.heap, x)
		}
		x.checks, x.at = append(x.checks, r), append(x.at, q.number)
		x.open++
		q.number++
	}
}

// order makes the queue ready, once all is noted.
func (q *queue) order() {
	for _, x := range q.heap {
		x.stood = [2]int{x.open, x.at[0]}
	}
	heap.Init(q)
}

// commonest is the reason that is next; nil where every check is taken. A
// reason only ever falls back, so that one which stands first as it is now is
// the first of all.
func (q *queue) commonest() *reason {
	for len(q.heap) > 0 {
		x := q.heap[0]
		if x.open == 0 {
			heap.Pop(q)
			continue
		}
		for q.taken[x.checks[x.next]] {
			x.next++
		}
		now := [2]int{x.open, x.at[x.next]}
		if now == x.stood {
			return x
		}
		x.stood = now
		heap.Fix(q, 0)
	}
	return nil
}

func (q *queue) Len() int { return len(q.heap) }

func (q *queue) Less(i, j int) bool {
	a, b := q.heap[i].stood, q.heap[j].stood
	return cmp.Or(cmp.Compare(b[0], a[0]), cmp.Compare(a[1], b[1])) < 0
}

func (q *queue) Swap(i, j int) { q.heap[i], q.heap[j] = q.heap[j], q.heap[i] }

// Push and Pop are heap.Interface's.
func (q *queue) Push(x any) { q.heap = append(q.heap, x.(*reason)) }

// Pop takes the last.
func (q *queue) Pop() any {
	last := q.heap[len(q.heap)-1]
	q.heap = q.heap[:len(q.heap)-1]
	return last
}

// ids are the reasons of a list, each once.
func ids(list []lack) []string {
	var out []string
	for _, l := range list {
		if !slices.Contains(out, l.id) {
			out = append(out, l.id)
		}
	}
	return out
}
