//go:build !unix

package publish

import "errors"

func cannotExchange(err error) bool { return errors.Is(err, errNoExchange) }

// cannotSyncFolder is always so here: a folder opened for reading may not be
// brought onto the disk, and the system keeps a journal of names itself.
func cannotSyncFolder(error) bool { return true }

func mounted(string) bool { return false }
