package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"path"
	"strings"
)

//go:embed static
var staticFS embed.FS

// Asset is one file for browsers. Its path names its content, so it may be
// kept for ever.
type Asset struct {
	Path string // "/static/app.1f2e3d4c.css"
	Type string
	Body []byte
	Gzip []byte
}

// Assets are all files for browsers.
type Assets struct {
	byName map[string]Asset
	byPath map[string]Asset
}

// LoadAssets names and compresses the embedded files.
func LoadAssets() (*Assets, error) {
	a := &Assets{byName: map[string]Asset{}, byPath: map[string]Asset{}}
	err := fs.WalkDir(staticFS, "static", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := staticFS.ReadFile(p)
		if err != nil {
			return err
		}
		return a.add(strings.TrimPrefix(p, "static/"), body)
	})
	if err != nil {
		return nil, fmt.Errorf("load assets: %w", err)
	}
	return a, nil
}

func (a *Assets) add(name string, body []byte) error {
	sum := sha256.Sum256(body)
	ext := path.Ext(name)
	asset := Asset{
		Path: "/static/" + strings.TrimSuffix(name, ext) + "." + hex.EncodeToString(sum[:4]) + ext,
		Type: mime.TypeByExtension(ext),
		Body: body,
	}
	zipped, err := Compress(body)
	if err != nil {
		return err
	}
	asset.Gzip = zipped
	a.byName[name], a.byPath[asset.Path] = asset, asset
	return nil
}

// Path gives an asset's address by its file name. An unknown name is a fault
// of the program and panics when the page is first tried.
func (a *Assets) Path(name string) string {
	asset, ok := a.byName[name]
	if !ok {
		panic("web: no asset " + name)
	}
	return asset.Path
}

// Lookup finds the asset at an address.
func (a *Assets) Lookup(p string) (Asset, bool) {
	asset, ok := a.byPath[p]
	return asset, ok
}

// Compress gives the best gzip of a body; meant for what is compressed once
// and sent often.
func Compress(body []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(body); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
