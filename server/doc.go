// Package server is the workbook as people meet it: pages, forms, sessions and
// permissions. A handler does four things: it parses, loads, decides (pure
// functions, tested by tables) and renders or redirects.
//
// Every address stands once in [routes] together with who may use it. Whoever
// may not, gets the same answer as for an address that does not exist.
package server
