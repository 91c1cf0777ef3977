package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"bindpost/site/press"
)

// browserNames are the names under which Chromium and Chrome are started.
var browserNames = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"}

// browserPlaces returns where they lie on systems that do not name them: on
// Windows under the folders for programs, on macOS among the applications.
func browserPlaces() []string {
	if runtime.GOOS == "darwin" {
		return []string{
			"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
			"/Applications/Chromium.app/Contents/MacOS/Chromium",
		}
	}
	var places []string
	for _, folder := range []string{"ProgramFiles", "ProgramFiles(x86)", "LocalAppData"} {
		if at := os.Getenv(folder); runtime.GOOS == "windows" && at != "" {
			places = append(places,
				filepath.Join(at, "Google", "Chrome", "Application", "chrome.exe"),
				filepath.Join(at, "Chromium", "Application", "chrome.exe"))
		}
	}
	return places
}

// findBrowser returns the program of the browser that prints booklets, and ""
// where none is found.
func findBrowser() string {
	for _, name := range browserNames {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	for _, place := range browserPlaces() {
		if info, err := os.Stat(place); err == nil && info.Mode().IsRegular() {
			return place
		}
	}
	return ""
}

// longestPrint is after what time a browser that has not printed is taken to
// hang: some 600 sides take a minute on a small machine that does nothing else.
const longestPrint = 15 * time.Minute

// printer returns what prints booklets in a browser. The page, the print and
// what the browser writes for itself lie in a folder that is removed again.
func printer(d desk, browser string) press.Print {
	times := 0
	return func(page []byte) (pdf []byte, err error) {
		if times++; times == 1 {
			d.say("The booklet is printed once to count its sides, and once more with their numbers. It takes a while.")
		} else {
			d.say("Printing it with the numbers of its sides.")
		}
		folder, err := os.MkdirTemp("", "bindpost-booklet-")
		if err != nil {
			return nil, fmt.Errorf("a folder for printing cannot be made: %w", err)
		}
		defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
		const name = "booklet.html"
		if err := os.WriteFile(filepath.Join(folder, name), page, 0o666); err != nil {
			return nil, fmt.Errorf("the page for printing cannot be written: %w", err)
		}
		return printPage(browser, folder, name)
	}
}

// printPage prints a page of a folder. What it asks of the browser: no window,
// no network, no strips of the browser's own, an outline of the heads.
func printPage(browser, folder, page string) ([]byte, error) {
	to, profile := filepath.Join(folder, "print.pdf"), filepath.Join(folder, "browser")
	options := []string{
		"--headless", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update",
		"--disable-extensions", "--proxy-server=127.0.0.1:9", "--user-data-dir=" + profile,
		"--no-pdf-header-footer", "--generate-pdf-document-outline", "--print-to-pdf=" + to,
	}
	if os.Geteuid() == 0 {
		options = append(options, "--no-sandbox") // it refuses to print for the superuser with one
	}
	ctx, cancel := context.WithTimeout(context.Background(), longestPrint)
	defer cancel()
	said, err := exec.CommandContext(ctx, browser, append(options, fileAddress(filepath.Join(folder, page)))...).CombinedOutput()
	pdf, readErr := os.ReadFile(to)
	if err != nil || readErr != nil || !bytes.HasPrefix(pdf, []byte("%PDF")) {
		return nil, fmt.Errorf("the browser %s did not print the booklet: %w%s", browser, errors.Join(err, readErr), lastLine(said))
	}
	return pdf, nil
}

// lastLine returns the last line that a program said.
func lastLine(said []byte) string {
	lines := strings.Split(strings.TrimSpace(string(said)), "\n")
	if last := lines[len(lines)-1]; last != "" {
		return "; it said last: " + last
	}
	return ""
}
