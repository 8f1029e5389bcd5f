package script

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// pretend builds an npm package with one member.
func pretend(t *testing.T, name string, body []byte) string {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	w := tar.NewWriter(z)
	if err := w.WriteHeader(&tar.Header{Name: name, Mode: 0o644, Size: int64(len(body))}); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(body); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "package.tgz")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Whatever is not the pinned file to the last byte is refused, and nothing of
// it is left behind.
func TestOnlyThePinnedLibraryIsTaken(t *testing.T) {
	for name, tgz := range map[string]string{
		"another file under its name": pretend(t, member, []byte("alert(1)")),
		"no such member":              pretend(t, "package/other.js", []byte("x")),
	} {
		if b, err := unpack(tgz); err == nil {
			t.Errorf("%s: %d bytes were taken", name, len(b))
		}
	}
	bad := filepath.Join(t.TempDir(), "bad.tgz")
	if err := os.WriteFile(bad, []byte("no archive"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := unpack(bad); err == nil {
		t.Error("a file that is no archive was taken")
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, FileName), []byte("alert(1)"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, ok := fromDir(dir); ok {
		t.Error("a wrong file in the cache was taken")
	}
}

// stand puts an npm of our own in front of the real one.
func stand(t *testing.T, shell string) {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "npm"), []byte("#!/bin/sh\n"+shell+"\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", dir+":/bin:/usr/bin")
}

func TestFetchSaysWhatWentWrongAndLeavesNothing(t *testing.T) {
	wrong := pretend(t, member, []byte("alert(1)"))
	for _, c := range []struct{ name, shell, says string }{
		{"npm fails", "echo no network >&2; exit 1", "no network"},
		{"npm brings nothing", "exit 0", "0 packages"},
		{"npm brings another file", "cp " + wrong + " .", "SHA-256"},
	} {
		t.Run(c.name, func(t *testing.T) {
			stand(t, c.shell)
			dir := filepath.Join(t.TempDir(), "cache")
			err := Fetch(context.Background(), dir)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Fatalf("got %v, want something with %q", err, c.says)
			}
			if left, _ := os.ReadDir(dir); len(left) > 0 {
				t.Errorf("it left %v", left)
			}
		})
	}
	t.Run("no npm", func(t *testing.T) {
		t.Setenv("PATH", t.TempDir())
		if err := Fetch(context.Background(), t.TempDir()); err == nil || !strings.Contains(err.Error(), "npm is not installed") {
			t.Fatal(err)
		}
	})
	t.Run("given up", func(t *testing.T) {
		stand(t, "exec sleep 60")
		ctx, stop := context.WithCancel(context.Background())
		stop()
		if err := Fetch(ctx, t.TempDir()); err == nil {
			t.Fatal("a cancelled fetch succeeded")
		}
	})
}

func TestPlaceWritesWholeFilesOnly(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	for _, body := range []string{"one", "another"} {
		if err := place(dir, []byte(body)); err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(filepath.Join(dir, FileName))
		if err != nil || string(got) != body {
			t.Fatalf("%q, %v", got, err)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("it left %v", left)
	}
}

// A library that is here must be safe to put into a page, and small enough
// that a page opens at once.
func TestTheLibraryThatIsHere(t *testing.T) {
	b, ok := Library()
	if !ok {
		if b != nil {
			t.Error("bytes without a library")
		}
		return
	}
	if err := check(b); err != nil {
		t.Error(err)
	}
	if bytes.Contains(b, []byte("</script")) || bytes.Contains(b, []byte("<!--")) {
		t.Error("the library would end a script element")
	}
}

// The boot script reads data; it must never run or parse what it read.
func TestBootScriptRunsNothingItReads(t *testing.T) {
	boot := string(Boot())
	for _, never := range []string{"eval", "new Function", "innerHTML", "insertAdjacentHTML", "document.write", "fetch(", "XMLHttpRequest", "import(", "http:", "https:"} {
		if strings.Contains(boot, never) {
			t.Errorf("it holds %q", never)
		}
	}
	if !strings.Contains(boot, "encodeHTML") {
		t.Error("tooltips are not escaped")
	}
}
