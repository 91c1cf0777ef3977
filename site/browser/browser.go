// Package browser opens Chromium for the tests of other packages, as a reader's
// browser that has no network. The program itself does not import it.
package browser

import (
	"context"
	"net/url"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// Open starts the browser, and stops it when the test ends. The test fails where
// Chromium is not there.
func Open(t testing.TB) context.Context {
	t.Helper()
	return open(t, "MAP * ~NOTFOUND")
}

// OpenServed is as [Open], of a browser that reaches what this machine serves to
// itself, and nothing else.
func OpenServed(t testing.TB) context.Context {
	t.Helper()
	return open(t, "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1")
}

// open starts a browser for which names lead where the rules say.
func open(t testing.TB, names string) context.Context {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("renderer-process-limit", "1"), chromedp.Flag("disable-gpu-compositing", true), chromedp.Flag("in-process-gpu", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("host-resolver-rules", names), chromedp.Flag("proxy-server", "http://127.0.0.1:9"),
	)
	allocator, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	browser, stop := chromedp.NewContext(allocator)
	t.Cleanup(stop)
	Visit(t, browser, "about:blank")
	return browser
}

// Visit opens an address.
func Visit(t testing.TB, tab context.Context, address string) {
	t.Helper()
	if err := chromedp.Do(tab, chromedp.Navigate(address)); err != nil {
		t.Fatalf("chromium (Debian package chromium) does not open %s: %v", address, err)
	}
}

// Address returns the address of a file on disk.
func Address(path string) string {
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String()
}

// Ask asks the open page something, and waits for a promise.
func Ask[T any](t testing.TB, tab context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(tab, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return v
}
