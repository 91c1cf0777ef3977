// Keeps an open page with its guides: it is opened again when it was made by an
// older press than the last one. Browsers allow few connections to one place, so
// one tab hears of the presses and tells the others.
"use strict";
(function () {
	const served = document.currentScript.dataset;
	// A page opened so goes along from guide to guide, as they are written.
	const following = new URLSearchParams(location.search).has("writing");
	const tabs = new BroadcastChannel("galley");
	let last = null; // what was told last
	let source = null; // in the tab that hears
	const leaving = new AbortController();
	const place = "place in " + location.pathname;
	let kept = JSON.parse(sessionStorage.getItem(place) || "null"); // until it is put back
	sessionStorage.removeItem(place);

	function heed(told) {
		last = told;
		alone(Boolean(told.closed));
		if (told.closed) {
			return;
		}
		if (following && told.writing && told.writing !== served.page) {
			leave();
			location.replace("/" + told.writing.split("/").map(encodeURIComponent).join("/") + "?writing");
		} else if (told.press !== served.press) {
			leave();
			keepPlace();
			location.reload();
		}
	}

	// leave ends the hearing of a tab that goes to another page, or its waiting to hear.
	function leave() {
		leaving.abort();
		if (source) {
			source.close();
		}
	}

	// pass hands on what was told; to the other tabs first, for this one may leave.
	function pass(told) {
		tabs.postMessage(told);
		heed(told);
	}

	tabs.onmessage = function (event) {
		if (event.data !== "ask") {
			heed(event.data);
		} else if (source && last) {
			tabs.postMessage(last);
		}
	};

	// Browsers try again by themselves what broke off, but they also tell of it where
	// a tab only goes to another page, or sleeps: what is not mended soon is told.
	const soon = 1000; // ms
	let broken = 0;

	function hear() {
		source = new EventSource("/.told");
		source.onopen = function () {
			clearTimeout(broken);
			broken = 0;
		};
		source.onmessage = function (event) {
			pass(JSON.parse(event.data));
		};
		source.addEventListener("closed", function () {
			source.close();
			pass({ closed: true });
		});
		source.onerror = function () {
			broken = broken || setTimeout(function () {
				if (!leaving.signal.aborted) {
					pass({ closed: true });
				}
			}, soon);
		};
	}

	addEventListener("pagehide", leave);

	// The lock is held as long as the tab is there; then the next one hears.
	if (navigator.locks) {
		navigator.locks.request("galley", { signal: leaving.signal }, function () {
			if (leaving.signal.aborted) {
				return undefined;
			}
			hear();
			return new Promise(function (release) {
				leaving.signal.addEventListener("abort", release);
			});
		}).catch(function () {}); // it left while it waited
		tabs.postMessage("ask");
	} else {
		hear();
	}

	// A page that comes out of a browser's memory may be an old one.
	window.addEventListener("pageshow", function (event) {
		if (event.persisted) {
			location.reload();
		}
	});

	// alone says at the head of the window that nobody tells the page anything, or
	// takes that back. The page stays where it is: it may be heard again at once.
	function alone(is) {
		const there = document.querySelector("p.slip");
		if (there && !is) {
			there.remove();
		}
		if (!there && is) {
			const line = document.createElement("p");
			line.className = "slip";
			line.setAttribute("role", "status");
			document.body.prepend(line);
			line.textContent = "The galley is closed: this page does not follow its guide any more. " +
				"Start bindpost galley again, and open the address that it prints.";
		}
	}

	// What the reader typed under a table, and where he was, stay when the page is
	// opened again. What the numbers come to is worked again when it is asked for.

	function keepPlace() {
		if (kept) { // it was not put back yet: the page is opened again before it was whole
			sessionStorage.setItem(place, JSON.stringify(kept));
			return;
		}
		const typed = {};
		for (const field of document.querySelectorAll("main input[id], main select[id]")) {
			typed[field.id] = field.value;
		}
		sessionStorage.setItem(place, JSON.stringify({ typed: typed, at: scrollY }));
	}

	function putBack() {
		for (const id of Object.keys(kept.typed)) {
			const field = document.getElementById(id);
			if (field && field.matches("main input, main select") && field.value !== kept.typed[id]) {
				field.value = kept.typed[id];
				field.dispatchEvent(new Event("input", { bubbles: true }));
			}
		}
		scrollTo(0, kept.at);
		kept = null;
	}

	// A slip that says something new is brought into view, and named in the title,
	// which a browser shows where it shows no page.
	const slip = document.querySelector("aside.slip");
	const news = slip ? slip.textContent : "";
	if (slip) {
		document.title = slip.querySelector(".signal").textContent + " · " + document.title;
	}
	if (kept) {
		if (news && news !== sessionStorage.getItem("slip")) {
			kept.at = 0;
		}
		history.scrollRestoration = "manual"; // or the browser would go where the page was when it last looked
		addEventListener("load", function () {
			putBack();
		});
		addEventListener("pagehide", function () {
			history.scrollRestoration = "auto";
		});
	}
	sessionStorage.setItem("slip", news);

	// What stands on a page when it is opened is not read out as news: say it again.
	const status = document.querySelector(".slip [role=status]");
	if (status) {
		const says = status.textContent;
		status.textContent = "";
		setTimeout(function () {
			status.textContent = says;
		}, 100);
	}

	// A mark far to the right of a narrow screen is brought into view.
	for (const caret of document.querySelectorAll(".slip .caret")) {
		const line = caret.parentElement;
		const text = caret.textContent;
		const share = text.indexOf("^") / text.length;
		const at = caret.getBoundingClientRect().width * share;
		if (at > line.clientWidth * 0.8) {
			line.scrollLeft = at - line.clientWidth / 2;
		}
	}
})();
