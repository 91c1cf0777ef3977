//go:build !linux

package publish

// canSyncDisk says that no call brings a whole disk up to date: each file is
// seen to by itself.
const canSyncDisk = false

func syncDisk(string) error { panic("publish: this system brings files onto the disk one by one") }
