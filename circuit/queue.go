package circuit

import "container/heap"

// A degreeQueue hands out nodes by degree, then by number. A node is pushed again whenever its degree changes; old
// entries are recognised and dropped.
type degreeQueue struct {
	entries []entry
	degree  []int // current degree per node, −1 once handed out
}

type entry struct{ degree, node int }

func newDegreeQueue(near []map[int]bool) *degreeQueue {
	q := &degreeQueue{degree: make([]int, len(near))}
	for n := range near {
		q.degree[n] = len(near[n])
		q.entries = append(q.entries, entry{len(near[n]), n})
	}
	heap.Init(q)
	return q
}

func (q *degreeQueue) push(node, degree int) {
	if q.degree[node] != degree {
		q.degree[node] = degree
		heap.Push(q, entry{degree, node})
	}
}

func (q *degreeQueue) pop() int {
	for {
		e := heap.Pop(q).(entry)
		if q.degree[e.node] == e.degree {
			q.degree[e.node] = -1
			return e.node
		}
	}
}

func (q *degreeQueue) Len() int      { return len(q.entries) }
func (q *degreeQueue) Swap(i, j int) { q.entries[i], q.entries[j] = q.entries[j], q.entries[i] }
func (q *degreeQueue) Push(x any)    { q.entries = append(q.entries, x.(entry)) }
func (q *degreeQueue) Less(i, j int) bool {
	a, b := q.entries[i], q.entries[j]
	return a.degree < b.degree || a.degree == b.degree && a.node < b.node
}
func (q *degreeQueue) Pop() any {
	last := q.entries[len(q.entries)-1]
	q.entries = q.entries[:len(q.entries)-1]
	return last
}
