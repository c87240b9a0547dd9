// Package lessons loads lesson modules: Markdown files with YAML front matter,
// fenced exercise, figure and caution blocks, and $formulas$. It reports every
// fault at once, each with file and line.
package lessons
