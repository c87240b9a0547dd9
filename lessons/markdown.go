package lessons

import (
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"
)

// newMarkdown sets up the Markdown reader and writer: plain CommonMark with
// tables, definition lists and typographic quotes, and our formulas. Raw HTML
// and dangerous links stay off, which is the default. Cell alignment would be
// written as a style attribute; the page's policy forbids those.
func newMarkdown() goldmark.Markdown {
	return goldmark.New(
		goldmark.WithExtensions(
			extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)),
			extension.DefinitionList,
			extension.NewTypographer(extension.WithTypographicSubstitutions(quotes)),
		),
		// Before the link parser (200), which shares the bracket with results.
		goldmark.WithParserOptions(parser.WithInlineParsers(
			util.Prioritized(formulaParser{}, 150),
			util.Prioritized(resultParser{}, 151),
		)),
		goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(nodeRenderer{}, 100))),
	)
}

// quotes are the substitutions for plain typing. Doubled angle brackets are
// left alone: they may be meant as they stand.
var quotes = map[extension.TypographicPunctuation][]byte{
	extension.LeftSingleQuote:  []byte("‘"),
	extension.RightSingleQuote: []byte("’"),
	extension.LeftDoubleQuote:  []byte("“"),
	extension.RightDoubleQuote: []byte("”"),
	extension.EnDash:           []byte("–"),
	extension.EmDash:           []byte("—"),
	extension.Ellipsis:         []byte("…"),
	extension.Apostrophe:       []byte("’"),
	extension.LeftAngleQuote:   nil,
	extension.RightAngleQuote:  nil,
}
