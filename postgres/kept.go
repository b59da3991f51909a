package postgres

import (
	"sync"

	"clayline/domain"
	"clayline/domain/desk"
)

// keptMost bounds the classes that are kept: more than are pulled at the same time on one server.
const keptMost = 64

// keptClasses remembers classes as this process's last action on each left them, so that the next action need not read
// a class that nobody has changed since. Whether that is so is asked under the class's lock each time: a class is as
// good as the last journal line about it or about its event, in whatever process it was written. Everything that the
// program changes about a class has such a line; rows that somebody changes by hand have none, and are seen after a
// restart of the program.
//
// The classes are shared: whoever gets one must not change it, which domain.Decide does not.
type keptClasses struct {
	mu    sync.Mutex
	byRef map[desk.Ref]keptClass
	// order has the refs as they were first kept; the oldest goes first.
	order []desk.Ref
}

// keptClass is a class and the number of the last line about it or its event when it stood so.
type keptClass struct {
	class domain.Class
	mark  int64
}

// newKept returns an empty memory.
func newKept() *keptClasses { return &keptClasses{byRef: make(map[desk.Ref]keptClass)} }

// get returns what is kept of a class, if anything.
func (k *keptClasses) get(ref desk.Ref) (keptClass, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	kept, ok := k.byRef[ref]
	return kept, ok
}

// put keeps a class as it stands after the line with the number. Two actions on a class come one after the other, but
// their answers may not: an older state never replaces a newer one.
func (k *keptClasses) put(ref desk.Ref, class domain.Class, mark int64) {
	k.mu.Lock()
	defer k.mu.Unlock()
	before, known := k.byRef[ref]
	if known && before.mark > mark {
		return
	}
	if !known {
		if k.order = append(k.order, ref); len(k.order) > keptMost {
			delete(k.byRef, k.order[0])
			k.order = k.order[1:]
		}
	}
	k.byRef[ref] = keptClass{class: class, mark: mark}
}
