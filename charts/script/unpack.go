package script

import (
	"archive/tar"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
)

// member is where the library stands in the npm package.
const member = "package/dist/" + FileName

// most is the largest library that is read: the real one has 1.1 MB.
const most = 8 << 20

// unpack takes the library out of an npm package and checks it.
func unpack(tgz string) ([]byte, error) {
	f, err := os.Open(tgz)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, fmt.Errorf("reading the package: %w", err)
	}
	t := tar.NewReader(z)
	for {
		h, err := t.Next()
		if errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("the package holds no %s", member)
		}
		if err != nil {
			return nil, fmt.Errorf("reading the package: %w", err)
		}
		if h.Name != member {
			continue
		}
		lib, err := io.ReadAll(io.LimitReader(t, most))
		if err != nil {
			return nil, fmt.Errorf("reading the package: %w", err)
		}
		return lib, check(lib)
	}
}
