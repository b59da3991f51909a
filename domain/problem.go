package domain

import "errors"

// Kind says what sort of refusal an [Error] is; each surface maps it to a status in one table. It tells apart
// what the caller has to do: type it again (Invalid), look elsewhere (NotFound), do something else first
// (WrongState), look again (Stale), or ask somebody (Forbidden).
type Kind uint8

// The kinds of refusal.
const (
	// Invalid input: a field cannot be understood or contradicts another.
	Invalid Kind = iota + 1
	// NotFound: what was named does not exist here.
	NotFound
	// WrongState: the action is well formed but not possible now.
	WrongState
	// Stale: somebody else changed the thing first, or the page that sent the action shows an older state.
	// Nothing was wrong with what was typed.
	Stale
	// Forbidden: the pass does not allow the action.
	Forbidden
)

// Error is the one error type of the program: what happened, to which field, and what the caller can do about
// it. Message and Fix are written for the person who acts and begin with a small letter, so that they can stand
// alone or inside a sentence: "the setting is frozen; reset it, with a reason". An error of any other type is a
// fault of the program or of what it runs on, and is not shown.
type Error struct {
	Kind    Kind
	Message string // what happened, one sentence without a full stop
	Field   string // the input field at fault, "" if none
	Also    string // the field that Field contradicts, where two fields are right alone and wrong together
	Fix     string // what to do now, one sentence without a full stop
	Cause   error  // for the log, never shown
}

// Error returns the message and the fix in one line, parted by a semicolon. The cause is not in it.
func (e *Error) Error() string {
	if e.Fix == "" {
		return e.Message
	}
	return e.Message + "; " + e.Fix
}

// Unwrap returns the cause, or nil.
func (e *Error) Unwrap() error { return e.Cause }

// KindOf returns the kind of the first [Error] in err's chain, or 0 when there is none: an internal fault.
func KindOf(err error) Kind {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Kind
	}
	return 0
}

// invalid refuses a field: what was typed there cannot be understood, or contradicts something else.
func invalid(field, message, fix string) *Error {
	return &Error{Kind: Invalid, Field: field, Message: message, Fix: fix}
}

// contradiction refuses two fields that are right alone and wrong together, naming both.
func contradiction(field, also, message, fix string) *Error {
	return &Error{Kind: Invalid, Field: field, Also: also, Message: message + " (" + field + " against " + also + ")", Fix: fix}
}

// wrongState refuses an action that is not possible now; the fix says what comes first.
func wrongState(message, fix string) *Error {
	return &Error{Kind: WrongState, Message: message, Fix: fix}
}

// notFound refuses an id or a name that does not exist here.
func notFound(message, fix string) *Error {
	return &Error{Kind: NotFound, Message: message, Fix: fix}
}
