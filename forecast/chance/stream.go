package chance

import (
	"hash/fnv"
	"math/rand/v2"
)

// Streams is a family of random streams for one purpose and one name; each
// draw has its own stream in it.
type Streams struct{ key uint64 }

// NewStreams returns the family that belongs to a seed, a purpose (such as
// "weather") and a name (such as that of a pile).
func NewStreams(seed uint64, purpose, name string) Streams {
	h := fnv.New64a()
	h.Write([]byte(purpose))
	h.Write([]byte{0})
	h.Write([]byte(name))
	return Streams{key: mix(seed) ^ h.Sum64()}
}

// Draw returns the stream of one draw. Two calls with the same arguments
// return the same numbers, on any machine and for any number of workers.
func (s Streams) Draw(draw int) *rand.Rand {
	return rand.New(s.Source(draw))
}

// Source is Draw's source, for samplers that want one.
func (s Streams) Source(draw int) *rand.PCG {
	a := mix(s.key + uint64(draw)*0x9e3779b97f4a7c15)
	return rand.NewPCG(a, mix(a^s.key))
}

// mix is the finalizer of SplitMix64 (Steele, Lea & Flood 2014, Fast
// splittable pseudorandom number generators): near keys give far results.
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
