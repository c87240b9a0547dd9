// Package web holds what browsers get: templates, styles, scripts and the
// shapes of states. Assets are embedded, named by their content and
// compressed once at start. The package imports nothing of the project.
package web
