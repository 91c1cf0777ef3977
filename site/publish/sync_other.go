//go:build !linux

package publish

import "os"

// canSyncDisk says that no call brings a whole disk up to date: each file is
// seen to by itself.
const canSyncDisk = false

func syncDisk(*os.File) error {
	panic("publish: this system brings files onto the disk one by one")
}
