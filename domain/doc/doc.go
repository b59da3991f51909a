// Package doc reads and writes the documents that people keep and exchange: rule sets, class sheets, scored
// standings and the journal's payloads. It is the only place in the domain that knows how they are written down.
package doc
