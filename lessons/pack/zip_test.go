package pack

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io/fs"
	"runtime"
	"strings"
	"testing"
)

// zipOf packs files: names and texts in turn.
func zipOf(t testing.TB, namesAndTexts ...string) []byte {
	t.Helper()
	return zipWith(t, func(z *zip.Writer) {
		for i := 0; i < len(namesAndTexts); i += 2 {
			put(t, z, &zip.FileHeader{Name: namesAndTexts[i], Method: zip.Deflate}, namesAndTexts[i+1])
		}
	})
}

func zipWith(t testing.TB, fill func(*zip.Writer)) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	fill(z)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func put(t testing.TB, z *zip.Writer, h *zip.FileHeader, text string) {
	t.Helper()
	w, err := z.CreateHeader(h)
	if err == nil && text != "" {
		_, err = w.Write([]byte(text))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// badNames are names that no file of a module has.
var badNames = []string{
	"../module.md", "..", "a/../../x.md", "/etc/passwd", "/", "./module.md", "a//b.md", "a/./b.md", "..\\module.md", "a\\b.md",
	"C:\\x.md", "C:x.md", "x.md:stream", "\\\\host\\share\\x.md", "a\x00.md", "a\n.md", "\u0085.md", "\xff\xfe.md", "a/b/../c.md",
	"a/b/c/d/e/f.md", strings.Repeat("a", 300) + ".md", strings.Repeat("a/", 120) + "x.md", "../" + strings.Repeat("../", 60) + "x", "a/..", "~/../x",
}

// A name that leads out of the archive, or that some system would read
// otherwise, is refused wherever it stands: as a file, as a folder, as a link.
func TestUnpackRefusesNames(t *testing.T) {
	tried := 0
	for _, bad := range badNames {
		for _, mode := range []fs.FileMode{0, fs.ModeDir, fs.ModeSymlink | 0o777} {
			for _, before := range []string{"", "head/", "modules/a/"} {
				for _, first := range []bool{true, false} {
					name := before + bad
					if mode == fs.ModeDir {
						name += "/"
					}
					h := &zip.FileHeader{Name: name}
					h.SetMode(mode)
					h.NonUTF8 = strings.Contains(bad, "\xff")
					body := zipWith(t, func(z *zip.Writer) {
						if first {
							put(t, z, h, "")
						}
						put(t, z, &zip.FileHeader{Name: "module.md"}, "---\n")
						if !first {
							put(t, z, h, "")
						}
					})
					tried++
					if got, err := unpack(body); err == nil {
						t.Errorf("unpack of %q, mode %v = %v, want it refused", name, mode, got)
					}
				}
			}
		}
	}
	t.Logf("%d archives", tried)
}

// header changes the bytes of an archive's directory: what it says of its
// first entry.
func header(body []byte, change func(directory []byte)) []byte {
	out := bytes.Clone(body)
	change(out[bytes.Index(out, []byte("PK\x01\x02")):])
	return out
}

func TestUnpackRefusesShapes(t *testing.T) {
	sound := zipOf(t, "module.md", strings.Repeat("a line of text\n", 400))
	link := &zip.FileHeader{Name: "plan.png"}
	link.SetMode(fs.ModeSymlink | 0o777)
	device := &zip.FileHeader{Name: "plan.png"}
	device.SetMode(fs.ModeDevice | 0o666)
	cases := []struct {
		name string
		body []byte
		want string
	}{
		{"no zip", []byte("---\nid: a\n---\n"), "no zip file"},
		{"empty", nil, "no zip file"},
		{"cut", sound[:len(sound)-30], "no zip file"},
		{"a symbolic link", zipWith(t, func(z *zip.Writer) { put(t, z, link, "/etc/passwd") }), "no plain file"},
		{"a device", zipWith(t, func(z *zip.Writer) { put(t, z, device, "") }), "no plain file"},
		{"two of one name", zipOf(t, "module.md", "a", "module.md", "b"), "twice"},
		{"two where letters count as the same", zipOf(t, "module.md", "a", "MODULE.md", "b"), "twice"},
		{"a file and a folder of one name", zipOf(t, "a", "x", "a/", ""), "twice"},
		{"locked", header(sound, func(d []byte) { d[8] |= 1 }), "password"},
		{"packed otherwise", header(sound, func(d []byte) { binary.LittleEndian.PutUint16(d[10:], 12) }), "not read here"},
		{"says it is shorter", header(sound, func(d []byte) { binary.LittleEndian.PutUint32(d[24:], 10) }), "damaged"},
		{"says it is longer", header(sound, func(d []byte) { binary.LittleEndian.PutUint32(d[24:], 9000) }), "damaged"},
		{"another sum", header(sound, func(d []byte) { d[16] ^= 1 }), "damaged"},
		{"says it is huge", header(sound, func(d []byte) { binary.LittleEndian.PutUint32(d[24:], 1<<31) }), "unpacks to more"},
		{"begins elsewhere", header(sound, func(d []byte) { binary.LittleEndian.PutUint32(d[42:], 1<<30) }), "cannot be unpacked"},
		{"a bomb", zipOf(t, "module.md", strings.Repeat("a", 4<<20)), "times its size"},
		{"many small bombs", zipWith(t, func(z *zip.Writer) {
			for i := range 500 {
				put(t, z, &zip.FileHeader{Name: fmt.Sprintf("p%d.png", i), Method: zip.Deflate}, strings.Repeat(fmt.Sprint(i), 50<<10))
			}
		}), "unpacks to more"},
		{"too many", zipWith(t, func(z *zip.Writer) {
			for i := range mostEntries + 1 {
				put(t, z, &zip.FileHeader{Name: fmt.Sprintf("p%d.png", i)}, "")
			}
		}), "are the most"},
		{"too long", make([]byte, MaxFile+1), "more than 16 MB"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := unpack(c.body)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("unpack(%s) = %d files, %v, want the error to say %q", c.name, len(got), err, c.want)
			}
		})
	}
}

// A bomb is refused by what its directory says: nothing of it is unpacked.
func TestUnpackWeighsBeforeItUnpacks(t *testing.T) {
	bomb := zipWith(t, func(z *zip.Writer) {
		for i := range 16 {
			put(t, z, &zip.FileHeader{Name: fmt.Sprintf("p%d.png", i), Method: zip.Deflate}, strings.Repeat("a", 2<<20))
		}
	})
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := unpack(bomb)
	runtime.ReadMemStats(&after)
	if took := after.TotalAlloc - before.TotalAlloc; err == nil || took > 1<<20 {
		t.Errorf("unpack of a bomb of %d bytes = %v and took %d bytes, want it refused for less than 1 MB", len(bomb), err, took)
	}
}

func TestUnpackPassesOverLitter(t *testing.T) {
	got, err := unpack(zipOf(t, "head/", "", "head/module.md", "text", "__MACOSX/head/._module.md", "x", "head/.DS_Store", "x", "head/Thumbs.db", "x"))
	if err != nil || len(got) != 1 || got[0].name != "head/module.md" || string(got[0].body) != "text" {
		t.Errorf("unpack = %v, %v, want the one text", got, err)
	}
}
