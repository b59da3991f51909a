package language

import "context"

// key is what the language of a request is under in its context.
type key struct{}

// With returns a context in which pages are in the language.
func With(ctx context.Context, l *Language) context.Context { return context.WithValue(ctx, key{}, l) }

// typedKey is what is under in a context that was typed.
type typedKey struct{}

// WithTyped returns a context in which pages give back what was typed in the way it was.
func WithTyped(ctx context.Context, was Retyped) context.Context {
	if was == nil {
		return ctx
	}
	return context.WithValue(ctx, typedKey{}, was)
}

// Say writes a page in the language of a context as [Language.Page] does, with what was typed as it was typed: in its forms,
// and where a sentence quotes it.
func Say(ctx context.Context, page []byte) (said []byte, unknown []string) {
	return Of(ctx).page(page, typedIn(ctx))
}

// SayText says a text in the language of a context as [Language.Text] does, likewise.
func SayText(ctx context.Context, text string) (said string, unknown []string) {
	return Of(ctx).text(text, typedIn(ctx))
}

// typedIn is how numbers were typed in a context.
func typedIn(ctx context.Context) Retyped {
	was, _ := ctx.Value(typedKey{}).(Retyped)
	return was
}

// Of is the language of the pages in a context; nil for English.
func Of(ctx context.Context) *Language {
	l, _ := ctx.Value(key{}).(*Language)
	return l
}
