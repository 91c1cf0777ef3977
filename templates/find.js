// Finding words at the head of the index. The text that is looked through comes
// with a script of its own, which is called when a reader comes to the field, and
// is read line by line.
"use strict";
(function () {
	const leaf = document.getElementById("find");
	if (!leaf) {
		return;
	}
	const field = document.getElementById("find-word");
	const told = document.getElementById("find-told");
	const list = document.getElementById("find-answers");
	const say = leaf.dataset;

	// The marks at the heads of lines.
	const alikeMark = "=", misspeltMark = "~", pathMark = "/", questionMark = "?", answerMark = "!";
	const headMark = "#", tableMark = "+", inTableMark = "|", termMark = "*";
	// What a word weighs where it stands.
	const weights = { "?": 12, "*": 8, "#": 6, "+": 5, "!": 6, "|": 2, ".": 2 };
	// How well a word is met: as a whole, at the head of a longer one, inside one.
	const whole = 1, head = 0.7, inside = 0.4;
	const alikeShare = 0.8, mendedShare = 0.9; // of a word of like meaning, of one read otherwise
	// Of the kinds of places, beyond plain text, that a page has beside its best one.
	const plainWeight = 2, kindShare = 0.5, mostKinds = 4;
	const mostAnswers = 20, mostLines = 20;
	const mostAlso = 3; // words of like meaning that are named
	const shortestPart = 3; // a shorter word is looked for as a whole
	const mostWords = 12, longestTyped = 400; // what is pasted may be a whole page

	let book = null;

	// read parts the text into lines, each with its page and its section.
	function read(text) {
		const b = { text: text, low: folded(text), starts: [], page: [], section: [], pages: [], alike: new Map(), senses: new Map(), misspelt: new Map() };
		let path = [], page = -1, section = -1;
		for (let at = 0; at < text.length;) {
			const end = text.indexOf("\n", at), n = b.starts.length, mark = text.charAt(at);
			if (mark === alikeMark || mark === misspeltMark) {
				learn(b, mark, b.low.slice(at + 1, end).split("\t"));
			} else if (mark === pathMark) {
				path = text.slice(at + 1, end).split("\t");
			} else if (mark === questionMark) {
				page = b.pages.length;
				section = n;
				b.pages.push({ path: path[0], id: path[1], line: n, end: n });
			} else if (mark === headMark) {
				section = n;
			}
			b.starts.push(at);
			b.page.push(mark === pathMark ? -1 : page);
			b.section.push(section);
			if (page >= 0 && mark !== pathMark) {
				b.pages[page].end = n + 1;
			}
			at = end + 1;
		}
		b.starts.push(text.length);
		return b;
	}

	function learn(b, mark, words) {
		if (mark === misspeltMark) {
			b.misspelt.set(words[0], words[1]);
			return;
		}
		words.forEach(function (word) {
			b.senses.set(word, (b.senses.get(word) || 0) + 1);
			b.alike.set(word, (b.alike.get(word) || []).concat(words.filter(function (other) { return other !== word; })));
		});
	}

	// folded returns a text in small letters, sign for sign as long as before: one
	// letter, a capital I with a dot, would become two.
	function folded(text) {
		return (text.indexOf("\u0130") < 0 ? text : text.replace(/\u0130/g, "I")).toLowerCase();
	}

	function isLetter(c) {
		return c.toLowerCase() !== c.toUpperCase() || c >= "0" && c <= "9";
	}

	function lineAt(place) {
		let low = 0, high = book.starts.length - 1;
		while (high - low > 1) {
			const middle = (low + high) >> 1;
			if (book.starts[middle] <= place) {
				low = middle;
			} else {
				high = middle;
			}
		}
		return low;
	}

	function markOf(line) {
		return book.text.charAt(book.starts[line]);
	}

	// fields returns what stands behind the mark of a line.
	function fields(line) {
		return book.text.slice(book.starts[line] + 1, book.starts[line + 1] - 1).split("\t");
	}

	// meet notes on which lines a word stands, and how well it is met there.
	function meet(found, word, share, least) {
		for (let at = book.low.indexOf(word); at >= 0; at = book.low.indexOf(word, at + 1)) {
			const how = quality(book.low, at, word) * share;
			if (how < least) {
				continue;
			}
			const line = lineAt(at);
			if (book.page[line] >= 0 && at > book.starts[line] && how > (found.get(line) || 0)) {
				found.set(line, how);
			}
		}
	}

	function quality(text, at, word) {
		if (at > 0 && isLetter(text.charAt(at - 1))) {
			return inside;
		}
		return endsWord(text, at + word.length) ? whole : head;
	}

	// One of a thing stands for several too.
	function endsWord(text, end) {
		const more = text.slice(end, end + 3);
		return !isLetter(more.charAt(0)) || more.charAt(0) === "s" && !isLetter(more.charAt(1));
	}

	// parted parts what was typed at blanks and stops, and a figure from the unit
	// that stands close behind it; it leaves what is typed beyond any question.
	function parted(typed) {
		const text = folded(typed.trim());
		const used = text.length > longestTyped ? text.slice(0, longestTyped).replace(/\S+$/, "") : text;
		return used.replace(/[\u2018\u2019]/g, "'").split(/[\s,;:!?"“”()]+/).map(function (part) {
			part = part.replace(/^[.'-]+|[.'-]+$/g, "");
			return known(part) ? part : part.replace(/^(\d+(?:\.\d+)?)([^\d\s.'-]+)$/, "$1 $2");
		}).join(" ").split(" ").filter(Boolean);
	}

	// wanted returns the different words, and known words of several parts, that
	// are to be met. Small words count where nothing else was typed.
	function wanted(typed) {
		const parts = parted(typed), words = new Set();
		for (let i = 0; i < parts.length;) {
			let n = Math.min(4, parts.length - i);
			while (n > 1 && !known(parts.slice(i, i + n).join(" "))) {
				n--;
			}
			words.add(parts.slice(i, i + n).join(" "));
			i += n;
		}
		const small = new Set(say.passedOver.split(" ")), all = Array.from(words);
		const large = all.filter(function (word) { return !small.has(word); });
		const taken = large.length > 0 ? large : all;
		return { words: taken.slice(0, mostWords), cut: taken.length > mostWords || typed.trim().length > longestTyped };
	}

	function known(word) {
		return [word, single(word)].some(function (w) { return book.alike.has(w) || book.misspelt.has(w); });
	}

	function single(word) {
		return word.length > shortestPart && word.endsWith("s") ? word.slice(0, -1) : word;
	}

	// lookUp returns the lines on which a word, or one of like meaning, stands.
	function lookUp(word, share) {
		const found = new Map(), met = [word];
		const least = word.length < shortestPart ? whole * share : 0;
		meet(found, word, share, least);
		if (single(word) !== word) {
			met.push(single(word));
			meet(found, single(word), share, whole * share);
		}
		const alike = book.alike.get(word) || book.alike.get(single(word)) || [];
		alike.forEach(function (other) {
			const less = share * alikeShare / book.senses.get(other); // one of several meanings is less likely meant
			met.push(other);
			meet(found, other, less, whole * less);
		});
		return { word: word, met: met, also: alike, lines: found };
	}

	// look looks a word up as it was typed; where that is no word of the book,
	// as it is likely to have been meant.
	function look(word) {
		const as = lookUp(word, 1);
		let best = 0;
		as.lines.forEach(function (how) { best = Math.max(best, how); });
		if (best >= head && !(best < whole && book.misspelt.has(word))) {
			return as;
		}
		const meant = book.misspelt.get(word) || book.misspelt.get(single(word)) || (as.lines.size === 0 ? nearest(word) : "");
		if (!meant) {
			return as;
		}
		const mended = lookUp(meant, mendedShare);
		if (mended.lines.size === 0) {
			return as;
		}
		mended.typed = word;
		return mended;
	}

	// nearest returns the most frequent word of the book that is one slip of the
	// keys away.
	function nearest(word) {
		if (word.length <= shortestPart) {
			return "";
		}
		if (!book.count) {
			book.count = new Map();
			book.low.split(/[^a-z0-9\u00df-\uffff-]+/).forEach(function (w) {
				book.count.set(w, (book.count.get(w) || 0) + 1);
			});
		}
		let best = "", most = 0;
		book.count.forEach(function (count, w) {
			if (count > most && oneSlip(word, w)) {
				best = w;
				most = count;
			}
		});
		return best;
	}

	// oneSlip reports whether one letter more, less, another, or two that changed
	// places make one word of the other.
	function oneSlip(a, b) {
		if (Math.abs(a.length - b.length) > 1) {
			return false;
		}
		let i = 0, j = 0;
		while (i < a.length && i < b.length && a[i] === b[i]) {
			i++;
		}
		while (j < a.length - i && j < b.length - i && a[a.length - 1 - j] === b[b.length - 1 - j]) {
			j++;
		}
		const left = a.slice(i, a.length - j), right = b.slice(i, b.length - j);
		return left.length <= 1 && right.length <= 1 ||
			left.length === 2 && right.length === 2 && left[0] === right[1] && left[1] === right[0];
	}

	// answers returns the pages that have the most of the words, the best first.
	function answers(looks) {
		const pages = new Map();
		looks.forEach(function (l, n) {
			l.lines.forEach(function (how, line) {
				const number = book.page[line];
				if (!pages.has(number)) {
					pages.set(number, { number: number, best: looks.map(function () { return 0; }), lines: new Map() });
				}
				const p = pages.get(number);
				const score = how * weights[markOf(line)];
				p.best[n] = Math.max(p.best[n], score);
				const at = p.lines.get(line) || { words: 0, how: 0, score: 0 };
				p.lines.set(line, { words: at.words + 1, how: at.how + how, score: at.score + score });
			});
		});
		const all = Array.from(pages.values());
		all.forEach(rate);
		const most = all.reduce(function (m, p) { return Math.max(m, p.words); }, 0);
		return all.filter(function (p) { return p.words === most; }).sort(function (p, q) {
			return q.score - p.score || p.number - q.number;
		});
	}

	// rate sums up what speaks for a page: its best place for each word, what other
	// kinds of places have one, how often they stand there, and whether together.
	function rate(p) {
		p.words = p.best.filter(Boolean).length;
		p.score = p.best.reduce(function (sum, one) { return sum + one; }, 0) + Math.min(p.lines.size, mostLines) / 4;
		let together = 0, best = 0;
		const kinds = {};
		p.lines.forEach(function (at, line) {
			const mark = markOf(line), one = at.score / at.words;
			together = Math.max(together, at.words - 1);
			best = Math.max(best, one);
			kinds[mark] = weights[mark] > plainWeight ? Math.max(kinds[mark] || 0, one) : 0;
		});
		const sum = Object.keys(kinds).reduce(function (all, mark) { return all + kinds[mark]; }, 0);
		p.score += 4 * together + Math.min(kindShare * Math.max(sum - best, 0), mostKinds);
	}

	// better reports whether one line of a page shows more than another: more of
	// the words, or has them more nearly as they were typed, or weighs more.
	function better(x, y) {
		return (x.words - y.words || x.how - y.how || x.score - y.score) > 0;
	}

	// shown returns the line of a page that is shown. A term is shown by the
	// sentence behind it, and a question by the short answer.
	function shown(p) {
		let best = -1, most = { words: 0, how: 0, score: 0 };
		p.lines.forEach(function (at, line) {
			const mark = markOf(line);
			if (mark === questionMark || mark === headMark || mark === tableMark) {
				return;
			}
			if (better(at, most) || !better(most, at) && line < best) {
				best = line;
				most = at;
			}
		});
		if (best >= 0) {
			return markOf(best) === termMark ? best + 1 : best;
		}
		p.lines.forEach(function (at, line) {
			if (best < 0 && markOf(line) !== questionMark) {
				best = line;
			}
		});
		const first = book.pages[p.number].line;
		return best < 0 ? Math.min(first + 1, book.pages[p.number].end - 1) : best;
	}

	// place returns the code and the head of the section or table of a line.
	function place(line) {
		const mark = markOf(line);
		let at = line;
		if (mark === inTableMark) {
			while (markOf(at) !== tableMark) {
				at--;
			}
		} else if (mark !== headMark && mark !== tableMark) {
			at = book.section[line];
		}
		return markOf(at) === questionMark ? { code: "", text: mark === answerMark ? say.answer : "" } : { code: fields(at)[0], text: fields(at)[1] };
	}

	function element(name, kind, children) {
		const e = document.createElement(name);
		if (kind) {
			e.className = kind;
		}
		(children || []).forEach(function (c) { e.append(c); });
		return e;
	}

	// marked returns a text with the words that were met marked in it.
	function marked(text, looks) {
		const low = folded(text), spans = [];
		looks.forEach(function (l) {
			l.met.forEach(function (word, n) {
				for (let at = low.indexOf(word); at >= 0; at = low.indexOf(word, at + 1)) {
					if (n === 0 && word.length >= shortestPart || quality(low, at, word) === whole) {
						spans.push([at, at + word.length]);
					}
				}
			});
		});
		spans.sort(function (x, y) { return x[0] - y[0] || y[1] - x[1]; });
		const set = document.createDocumentFragment();
		let done = 0;
		spans.forEach(function (s) {
			if (s[0] >= done) {
				set.append(text.slice(done, s[0]), element("mark", "", [text.slice(s[0], s[1])]));
				done = s[1];
			}
		});
		set.append(text.slice(done));
		return set;
	}

	// way leads to a page or a place of it: on this page where all pages stand on one.
	function way(path, id, children) {
		const a = element("a", "", children);
		a.href = document.getElementById(id) ? "#" + id : path;
		return a;
	}

	// stop ends a title as a sentence, where it has no mark of its own at its end.
	function stop(text) {
		return /[.!?:]$/.test(text) ? " " : ". ";
	}

	function answer(p, looks) {
		const page = book.pages[p.number], line = shown(p), at = place(line), mark = markOf(line);
		const title = fields(page.line);
		const entry = element("li", "", [element("p", "entry", [
			element("span", "paragraph", [title[0]]), " ", way(page.path, page.id, [marked(title[1], looks)])])]);
		const said = element("p", "more-words");
		if (at.code) {
			said.append(way(page.path + "#" + at.code, at.code, [at.code]), " ", marked(at.text, looks), stop(at.text));
		} else if (at.text) {
			said.append(at.text + stop(at.text));
		}
		if (mark !== headMark && mark !== tableMark && mark !== questionMark) {
			said.append(element("q", "", [marked(fields(line)[0], looks)]));
		}
		entry.append(said);
		return entry;
	}

	function filled(phrase, slots) {
		return phrase.replace(/\{(\w+)\}/g, function (slot, name) { return name in slots ? slots[name] : slot; });
	}

	// count tells how many pages were found, and how the words were taken.
	function count(all, looks, cut) {
		const lines = looks.filter(function (l) { return l.typed; }).map(function (l) {
			return filled(say.readAs, { typed: l.typed, taken: l.word });
		});
		looks.forEach(function (l) {
			if (l.also.length > 0) {
				lines.push(filled(say.also, { typed: l.typed || l.word, words: l.also.slice(0, mostAlso).join(", ") }));
			}
		});
		if (cut) {
			lines.push(say.cut);
		}
		if (all.length > 0 && all[0].words < looks.length) {
			lines.push(say.lacks);
		}
		const many = all.length > mostAnswers ? say.most : say.many;
		lines.push(all.length === 0 ? say.none : all.length === 1 ? say.single :
			filled(many, { all: all.length, count: Math.min(all.length, mostAnswers) }));
		return lines.join(" ");
	}

	function find() {
		list.textContent = "";
		if (!book || field.value.trim() === "") {
			told.textContent = "";
			return;
		}
		const typed = wanted(field.value), looks = typed.words.map(look), all = answers(looks);
		const shownNow = document.createDocumentFragment();
		all.slice(0, mostAnswers).forEach(function (p) { shownNow.append(answer(p, looks)); });
		list.append(shownNow);
		told.textContent = count(all, looks, typed.cut);
	}

	// callText calls the script with the text, once.
	let called = false;
	function callText() {
		if (called) {
			return;
		}
		called = true;
		const ready = function () {
			book = read(window.bindpostIndex);
			find();
		};
		if (window.bindpostIndex) {
			ready();
			return;
		}
		const script = document.createElement("script");
		script.src = say.index;
		script.onload = ready;
		script.onerror = function () { told.textContent = say.missing; };
		document.head.append(script);
	}

	field.addEventListener("focus", callText);
	field.addEventListener("input", function () {
		callText();
		find();
	});
	leaf.hidden = false;
	if (location.hash === "#find") {
		leaf.scrollIntoView();
	}
})();
