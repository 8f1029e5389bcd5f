// Package script holds the two scripts that draw the charts of a page: our
// own boot script, which is part of the source, and the charting library
// ECharts, which is not. A build that finds the library in assets/ carries it
// inside; any other looks for it in the user's cache directory; where it is in
// neither place, pages do without, and their tables say the same.
//
// Fetch brings the library once with the ordinary npm client, checked against
// a pinned version and sum.
package script

import (
	"bytes"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

//go:generate go run ../../cmd/hodaba fetch-script assets

// What is fetched, and what it must be. ECharts is published under the
// Apache License 2.0.
const (
	Version = "6.1.0"
	sum     = "b66b25aeb4df84e33199dc21694014d336d222cbd9deb0e5a7c14bd6aa0d0fd0" // SHA-256 of dist/echarts.min.js
)

// FileName is the name under which Fetch writes the library and Library looks
// for it.
const FileName = "echarts.min.js"

// Patience is how long Fetch waits for the npm client at most.
const Patience = 2 * time.Minute

// The pattern matches boot.js always and the library where it was fetched.
//
//go:embed assets/*.js
var assets embed.FS

// Boot returns the script that turns the options of a page into charts.
func Boot() []byte {
	b, err := assets.ReadFile("assets/boot.js")
	if err != nil {
		panic("script: boot.js is not embedded: " + err.Error()) // a broken build, not a broken yard
	}
	return b
}

// Library returns the charting library: the one built in, else the one in the
// user's cache directory. ok is false where neither is there or neither is
// what it should be.
func Library() (lib []byte, ok bool) {
	if b, err := assets.ReadFile("assets/" + FileName); err == nil && check(b) == nil {
		return b, true
	}
	dir, err := CacheDir()
	if err != nil {
		return nil, false
	}
	return fromDir(dir)
}

func fromDir(dir string) ([]byte, bool) {
	b, err := os.ReadFile(filepath.Join(dir, FileName))
	if err != nil || check(b) != nil {
		return nil, false
	}
	return b, true
}

// CacheDir is the directory in which Library looks and into which Fetch is
// meant to write when nothing else is said. It holds the version, so that a
// newer program does not take an older library.
func CacheDir() (string, error) {
	dir, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("looking for a place to keep the chart script: %w", err)
	}
	return filepath.Join(dir, "hodaba", "echarts-"+Version), nil
}

// Fetch brings the library with the npm client, checks it, and writes it to
// dir/echarts.min.js: aside first, then renamed, so that a half-written file
// never stands under that name. It gives up after Patience. A library that is
// there already and right is left alone.
func Fetch(ctx context.Context, dir string) error {
	if _, ok := fromDir(dir); ok {
		return nil
	}
	ctx, stop := context.WithTimeout(ctx, Patience)
	defer stop()
	lib, err := pack(ctx)
	if err != nil {
		return fmt.Errorf("fetching the chart script: %w", err)
	}
	if err := place(dir, lib); err != nil {
		return fmt.Errorf("keeping the chart script: %w", err)
	}
	return nil
}

// pack lets npm bring the package into a directory of its own and takes the
// library out of it.
func pack(ctx context.Context) ([]byte, error) {
	npm, err := exec.LookPath("npm")
	if err != nil {
		return nil, errors.New("npm is not installed: install Node.js with npm, or do without charts (every chart has its table)")
	}
	tmp, err := os.MkdirTemp("", "hodaba-script-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(tmp)
	cmd := exec.CommandContext(ctx, npm, "pack", "echarts@"+Version, "--silent", "--ignore-scripts",
		"--pack-destination", tmp)
	cmd.Dir = tmp
	cmd.WaitDelay = time.Second
	if out, err := cmd.CombinedOutput(); err != nil {
		if ctx.Err() != nil {
			err = ctx.Err()
		}
		return nil, fmt.Errorf("npm pack: %w: %s", err, firstLine(out))
	}
	got, err := filepath.Glob(filepath.Join(tmp, "*.tgz"))
	if err != nil || len(got) != 1 {
		return nil, fmt.Errorf("npm pack left %d packages, 1 expected", len(got))
	}
	return unpack(got[0])
}

// place writes lib aside and renames it.
func place(dir string, lib []byte) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, ".echarts-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // gone already where the rename succeeded
	if _, err := f.Write(lib); err != nil {
		f.Close()
		return err
	}
	if err := errors.Join(f.Chmod(0o644), f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), filepath.Join(dir, FileName))
}

func check(lib []byte) error {
	got := sha256.Sum256(lib)
	if hex.EncodeToString(got[:]) != sum {
		return fmt.Errorf("%s is not ECharts %s: its SHA-256 is %x, expected %s", FileName, Version, got, sum)
	}
	return nil
}

func firstLine(b []byte) string {
	line, _, _ := bytes.Cut(bytes.TrimSpace(b), []byte("\n"))
	return string(line)
}
