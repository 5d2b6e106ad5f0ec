// Package schema reads door specs and the other documents of this program: it decodes JSON and
// YAML into nodes that know where they stand in the file, validates them against a JSON Schema
// and words every problem so that the person who wrote the file can put it right.
//
// Read never panics and never gives a document that it could not read in full: such a document
// is left out and its problems say why. The other documents of the same file are kept.
package schema
