package language

import "context"

// key is what the language of a request is under in its context.
type key struct{}

// With returns a context in which pages are in the language.
func With(ctx context.Context, l *Language) context.Context { return context.WithValue(ctx, key{}, l) }

// Of is the language of the pages in a context; nil for English.
func Of(ctx context.Context) *Language {
	l, _ := ctx.Value(key{}).(*Language)
	return l
}
