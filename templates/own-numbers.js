"use strict";
// A reader's own numbers. Under a table that a formula method made, this opens
// a form with a field for each value, filled with the book's example, and works
// the method with what is typed there. All words come with the page, in its
// template elements; nothing is kept and nothing is sent.
document.addEventListener("DOMContentLoaded", () => {
  const find = (from, selector) => from.querySelector(selector);
  const all = (from, selector) => Array.from(from.querySelectorAll(selector));
  const kept = find(document, "template.own-words");
  if (!kept || typeof bindpost === "undefined") return;

  const words = new Map(all(kept.content, "[data-say]").map(e => [e.dataset.say, e.textContent]));
  const allKept = all(document, "template.own-words"); // several where pages were put together
  const spoken = new Map(allKept.flatMap(t => all(t.content, "[data-unit]")).map(e => [e.dataset.unit, e.textContent]));
  const make = (name, kind, ...inside) => {
    const e = document.createElement(name);
    if (kind) e.className = kind;
    e.append(...inside);
    return e;
  };
  const capital = text => text.charAt(0).toUpperCase() + text.slice(1);
  const bare = text => text.replace(/[.\s]+$/, "");
  // say fills the {names} of a phrase, each once.
  const say = (key, slots) => words.get(key).replace(/\{(\w+)\}/g, (whole, name) => slots && name in slots ? slots[name] : whole);
  const joined = texts => texts.reduce((row, next, i) => say(i === texts.length - 1 ? "table-join-last" : "table-join", { first: row, second: next }));

  // A unit behind a number, and a sign, are written for the eye and put into
  // words for those who listen.
  const heard = (written, word) => {
    const eye = make("span", "", written);
    eye.setAttribute("aria-hidden", "true");
    return [eye, make("span", "spoken", word)];
  };
  const signs = { "−": "sign-minus", "±": "sign-plus-minus", "≤": "sign-at-most", "≥": "sign-at-least", "×": "sign-times", "≈": "sign-about", "=": "work-equals" };
  const escaped = text => text.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
  const units = Array.from(spoken.keys()).sort((a, b) => b.length - a.length).map(escaped);
  const marks = new RegExp("([−±≤≥×≈])|([0-9]) ?(" + units.join("|") + ")(?![\\w²³/])", "g");
  const aloud = text => {
    const parts = [];
    let at = 0;
    text.replace(marks, (whole, sign, digit, unit, where) => {
      parts.push(text.slice(at, where));
      if (sign) parts.push(...heard(sign, words.get(signs[sign]) + " "));
      else parts.push(digit, whole.charAt(1) === " " ? "\u00a0" : "", ...(spoken.get(unit) === unit ? [unit] : heard(unit, spoken.get(unit))));
      at = where + whole.length;
      return whole;
    });
    return parts.concat(text.slice(at));
  };

  // example reads what the book takes: name=value, or name~value for what is
  // usual; a unit stands behind, sign and word, where it is not the form's.
  const example = text => new Map(text.split("; ").filter(part => part).map(part => {
    const [, name, mark, rest] = /^([^=~]+)([=~]?)(.*)$/.exec(part);
    const [value, unit, unitWords] = rest.split(" | ");
    return [name, { value, usual: mark === "~", unit, unitWords }];
  }));

  // rowsOf reads the value that the table's rows hold, and its points.
  const rowsOf = text => {
    if (!text) return null;
    const at = text.indexOf("=");
    return { key: text.slice(0, at), points: text.slice(at + 1).split("; ") };
  };

  // A field of one form, and what is told of it.
  const field = (own, box, book) => {
    const key = box.dataset.key, control = find(box, "input, select"), label = find(box, "label"), note = find(box, ".note");
    const f = { key, name: box.dataset.name, box, control, book, label: label.textContent, unit: book.unit || box.dataset.unit || "", group: box.dataset.group };
    const id = own.id + "-" + key;
    control.id = label.htmlFor = id;
    if (note) note.id = id + "-note";
    if (book.unitWords) find(box, ".unit").textContent = book.unitWords;
    f.unitWords = find(box, ".unit") ? find(box, ".unit").textContent : "";
    f.describe = more => {
      const ids = (note ? [note.id] : []).concat(more || []);
      if (ids.length) control.setAttribute("aria-describedby", ids.join(" "));
      else control.removeAttribute("aria-describedby");
    };
    if (control.tagName === "SELECT") offer(control, box.dataset.free || f.group || book.value === "" ? words.get("own-empty") : "");
    else control.type = "text";
    f.describe();
    f.reset = () => { control.value = book.value === undefined ? "" : book.value; };
    return f;
  };
  // offer adds what may be replied to any choice.
  const offer = (select, empty) => {
    if (empty) select.prepend(new Option(empty, ""));
    select.append(new Option(words.get("reply-don't know"), words.get("reply-don't know")));
  };
  const flat = text => text.toLowerCase().replace(/[’'`´]/g, "").replace(/\s+/g, " ").replace(/[.!]+$/, "").replace(/\?+$/, "?");
  const unknowns = [words.get("reply-don't know")].concat(words.get("own-unknown-too").split("; ")).map(flat);
  const unknown = text => unknowns.includes(flat(text));
  const isNumber = text => /^[-−+]?[\d.,/\s½¼¾⅓⅔⅛⅜⅝⅞]+$/.test(text);

  // typed is what stands in a field, as the methods read it; undefined where
  // nothing does, or where what is usual was left as it was.
  const typed = f => {
    const text = f.control.value.trim();
    if (text === "" || f.book.usual && text === f.book.value) return undefined;
    if (unknown(text)) return null;
    if (f.control.tagName === "SELECT") return text;
    if (!f.box.dataset.list) return isNumber(text) && f.unit ? text + " " + f.unit : text;
    return members(f, text);
  };
  // members parts a list. A number alone takes the unit of the next that has one.
  const members = (f, text) => {
    const and = new RegExp("\\s+(?:and|" + escaped(words.get("own-and")) + ")\\s+|\\s*;\\s*|,\\s+", "i");
    let unit = f.unit;
    return text.split(and).map(t => t.trim()).filter(t => t).reverse().map(t => {
      if (unknown(t)) return null;
      const tail = /^[-−+]?[\d.,/]+\s*([^\d.,/\s].*)$/.exec(t);
      if (tail) unit = tail[1];
      return isNumber(t) && unit ? t + " " + unit : t;
    }).reverse();
  };

  // What was typed is quoted whole, up to a length that fits a sentence.
  const longest = 40;
  const quoted = text => {
    const letters = Array.from(text.trim().replace(/\s+/g, " "));
    return letters.slice(0, longest).join("") + (letters.length > longest ? "…" : "");
  };
  // These faults speak of a value that was read, and so do those of a choice.
  const ofRead = ["beyond", "not-whole", "not-among", "borrowed", "no-word"];
  const unread = ["no-number", "unknown-unit", "second-value", "several", "left-over", "unclear"];
  const isSeveral = text => /\d\D*?(?:[\s;,±‐‑–−-]|\.\.)\s*[+−-]?\d/.test(text);

  // Faults. Each stands at its field; what belongs to none stands above the
  // answer.
  const told = (own, w) => {
    const f = own.fields.find(x => x.key === w.key), labels = (w.keys || []).map(key => (own.fields.find(x => x.key === key) || { label: key }).label);
    const slots = Object.assign({ unit: f ? f.unitWords : "", values: labels.length ? joined(labels) : "" }, w, { says: capital(w.says || "") });
    let key = "own-" + w.code;
    if (f && !ofRead.includes(w.code)) slots.text = f.control.value;
    if (f && unread.includes(w.code) && !f.box.dataset.list && isSeveral(slots.text)) return say("own-one-value", { text: quoted(slots.text) });
    slots.text = quoted(slots.text || "");
    if (w.code === "comma-two-ways") key = "own-thousands";
    if (w.code === "beyond" && !w.from) key = "own-beyond-most";
    if (w.code === "beyond" && !w.to) key = "own-beyond-least";
    if (w.code.startsWith("wrong-") && !slots.unit) key = "own-wrong-kind-plain";
    if (w.code === "unknown-unit" && !slots.unit) key = "own-unclear";
    if (!words.has(key)) key = "own-unclear";
    return say(key, slots) + (w.try && w.try.length <= longest ? " " + say("own-try", w) : "");
  };
  const complain = (own, all) => {
    // Until it is settled which of several is given, what hangs on one of them
    // is not asked for.
    const group = all.some(w => w.code === "several-of" || w.code === "none-of");
    const wrong = all.filter(w => !group || w.code !== "missing");
    let first = null;
    for (const w of wrong) {
      const f = own.fields.find(x => x.key === w.key), p = make("span", "fault", ...aloud(told(own, w)));
      if (!f) {
        own.answer.append(make("p", "fault", ...p.childNodes));
        continue;
      }
      if (f.fault) continue;
      f.fault = p;
      p.id = f.control.id + "-fault";
      f.box.append(p);
      f.control.setAttribute("aria-invalid", "true");
      f.describe(p.id);
      first = first && own.fields.indexOf(first) < own.fields.indexOf(f) ? first : f;
    }
    (first || own.fields[0]).control.focus();
  };
  const clear = own => {
    for (const f of own.fields.filter(x => x.fault)) {
      f.fault.remove();
      f.fault = null;
      f.control.removeAttribute("aria-invalid");
      f.describe();
    }
    own.cautions.textContent = own.answer.textContent = own.worked.textContent = "";
    own.place.classList.remove("answered");
  };

  // The answer: the cautions whole, then a sentence, verdicts, and the working.
  const spokenOf = (own, kind, name) => {
    const e = find(own.form, "li[data-" + kind + '="' + name + '"]');
    return e ? e.textContent : name.replace(/_/g, " ");
  };
  const resultText = (own, r) => {
    const label = spokenOf(own, "result", r.name), why = bare(r.why || "");
    if (r.state === "none") return say("own-result-none", { label, why });
    if (r.state !== "known") return say("own-result-unknown", { label, why });
    return say(/\d/.test(r.text) ? "own-result" : "own-result-word", { label, value: r.text });
  };
  // What is usual is told in its field, and not again.
  const sentences = (own, out) => {
    const shown = out.results.map(r => resultText(own, r));
    const values = out.taken.filter(t => !t.usual && !t.assumed).map(t => say("own-value", { label: t.label, value: t.text }));
    return [shown.length ? say("own-answer", { results: capital(joined(shown)) }) : "", values.length ? say("own-with", { values: joined(values) }) : ""];
  };
  const caution = (own, name) => {
    const t = all(own.scope, "template.own-caution").find(e => e.dataset.name === name);
    const from = t && (t.dataset.at ? document.getElementById(t.dataset.at) : t.content.firstElementChild);
    if (!from) return "";
    const set = make("div", "caution");
    for (const e of from.children) {
      const copy = make(e.tagName === "DL" ? "dl" : "p", e.className);
      copy.append(...Array.from(e.cloneNode(true).childNodes).filter(n => !(n.classList && n.classList.contains("paragraph"))));
      set.append(copy);
    }
    return set;
  };
  const verdictText = (own, v) => {
    const grade = words.get("grade-" + v.grade) || v.grade;
    const verdict = say("verdict", { name: capital(spokenOf(own, "verdict", v.name)), grade });
    return v.words ? say("own-verdict", { verdict, words: capital(bare(v.words)) }) : verdict + ".";
  };
  const answer = (own, out, values) => {
    const cautions = out.cautions.map(name => caution(own, name)).filter(set => set);
    if (cautions.length) own.cautions.append(make("p", "below", below(cautions.length)), ...cautions);
    const lines = sentences(own, out).concat(limits(own, out.results).map(limitText), along(own, values), out.verdicts.map(v => verdictText(own, v)));
    const assumed = out.taken.filter(t => t.assumed).map(t => say("own-value", { label: t.label, value: t.text }));
    if (assumed.length) lines.push(say("own-assumed", { values: joined(assumed) }));
    for (const u of out.unusual) {
      const value = say("own-value", { label: capital((own.fields.find(f => f.key === u.key) || { label: u.key }).label), value: u.text });
      lines.push(say("own-unusual", { value, from: u.from, to: u.to }));
    }
    own.answer.append(...lines.filter(t => t).map(t => make("p", "", ...aloud(t))));
    working(own, out.steps);
    for (const f of own.fields) f.box.classList.toggle("empty", f.control.value.trim() === "");
    own.place.classList.add("answered");
    lead(find(own.cautions, ".below") || own.answer.firstElementChild);
  };
  const below = count => say(count === 1 ? "own-below-one" : "own-below", { count });
  // lead takes the reader to the head of the reply.
  const lead = head => {
    if (!head) return;
    head.tabIndex = -1;
    head.focus({ preventScroll: true });
    head.scrollIntoView({ block: "start" });
  };

  // A limit of the table holds for the reader's figure too.
  const holds = {
    below: (a, b) => a < b && !bindpost.near(a, b),
    most: (a, b) => a < b || bindpost.near(a, b),
    equal: (a, b) => bindpost.near(a, b),
    least: (a, b) => a > b || bindpost.near(a, b),
    above: (a, b) => a > b && !bindpost.near(a, b),
  };
  const limits = (own, results) => {
    const told = [];
    for (const l of own.limits) {
      const r = results.find(x => x.name === l.dataset.result);
      if (r && r.state === "known") told.push({ l, met: holds[l.dataset.relation](r.x, Number(l.dataset.level)) });
    }
    return told;
  };
  const limitText = m => say(m.met ? "own-within" : "own-passed", { limit: m.l.textContent, beyond: m.l.dataset.beyond });

  // along gives the first figure at every value of the table's rows, the rest
  // being the reader's.
  const along = (own, values) => {
    if (!own.along) return "";
    const f = own.fields.find(x => x.key === own.along.key), figures = [];
    for (const point of own.along.points) {
      const out = bindpost.run(own.method, Object.assign({}, values, { [f.key]: point === words.get("reply-don't know") ? null : point }), own.results);
      if (out.wrong.length) return "";
      const r = out.results[0], beyond = limits(own, out.results).filter(m => !m.met).map(m => m.l.dataset.beyond);
      const figure = r.state === "known" ? r.text : words.get(r.state === "none" ? "cell-none" : "cell-unknown");
      const taken = out.taken.find(t => t.key === f.key);
      figures.push(say("own-along-point", { label: taken ? taken.text : point, value: figure }) + (beyond.length ? " (" + beyond.join("; ") + ")" : ""));
    }
    return say("own-along", { result: capital(spokenOf(own, "result", own.results[0])), axis: f.name, figures: figures.join("; ") });
  };

  // The working, as the book sets its own.
  const side = (...inside) => {
    const sign = make("span", "equals", ...heard("=", words.get("work-equals") + " "));
    return make("span", "line", sign, " ", make("span", "side", ...inside));
  };
  const formula = markup => {
    const t = document.createElement("template");
    t.innerHTML = markup;
    return t.content;
  };
  const comes = s => {
    if (!s.before) return s.result;
    return say(s.round ? "work-rounded-" + s.round : "work-rounded", { value: s.before, figure: s.result });
  };
  const step = s => {
    const li = make("li", "step", make("span", "name", s.name.replace(/_/g, " ")));
    if (s.rule) li.append(side(formula(s.rule)));
    else if (s.borrowed && s.borrowed !== s.result) li.append(side(s.borrowed));
    if (s.with) li.append(side(formula(s.with)));
    li.append(side(...aloud(comes(s))));
    return li;
  };
  const working = (own, steps) => {
    if (!steps.length) return;
    const title = make("p", "label", words.get("own-worked")), list = make("ol", "", ...steps.map(step));
    const work = make("div", "work", title, make("p", "more", words.get("work-more")), list);
    title.id = own.id + "-work";
    work.setAttribute("role", "group");
    work.setAttribute("aria-labelledby", title.id);
    work.tabIndex = 0;
    own.worked.append(work);
  };

  // settle leaves aside what is asked for in another case only, and a value
  // that has no field here, for nothing here turns on it.
  const settle = (own, values, wrong) => {
    const here = key => own.fields.some(f => f.key === key);
    let settled = false;
    for (const w of wrong) {
      const one = w.code === "none-of" ? w.keys : w.code === "missing" ? [w.key] : [];
      if (w.code === "not-here") values[w.key] = undefined;
      else if (one.length && !one.some(here)) values[one[0]] = null;
      else continue;
      settled = true;
    }
    return settled;
  };

  // work works with what stands in the fields.
  const work = own => {
    clear(own);
    const values = {};
    for (const f of own.fields) values[f.key] = typed(f);
    let out = bindpost.run(own.method, values, own.results);
    if (settle(own, values, out.wrong)) out = bindpost.run(own.method, values, own.results);
    if (out.wrong.length) complain(own, out.wrong);
    else answer(own, out, values);
  };

  // open opens the form under one table.
  const open = place => {
    const scope = place.closest("article") || document;
    const form = all(scope, "template.own-form").find(t => t.dataset.method === place.dataset.method);
    if (!form || !bindpost.has(place.dataset.method)) return;
    const body = find(kept.content, "form").cloneNode(true), boxes = all(form.content.cloneNode(true), ".field");
    const own = {
      id: place.id, place, scope, method: place.dataset.method, form: form.content, results: place.dataset.results.split(" ").filter(r => r), fields: [],
      limits: all(place, ".limit"), along: rowsOf(place.dataset.along),
      cautions: find(body, ".cautions"), answer: find(body, ".told"), worked: find(body, ".worked"),
    };
    const book = example(place.dataset.example), rest = find(body, ".rest"), groups = new Map();
    own.limits.forEach(l => l.remove());
    const head = find(body, ".head");
    head.id = own.id + "-head";
    body.setAttribute("aria-labelledby", head.id + " " + own.id.replace(/-own$/, "-name"));
    for (const box of boxes.filter(b => book.has(b.dataset.key))) {
      const f = field(own, box, book.get(box.dataset.key));
      own.fields.push(f);
      const aside = f.book.usual || f.book.value === "" || f.book.value === undefined;
      if (!f.group) (aside ? rest : find(body, ".fields")).append(box);
      else inGroup(groups, f.group, find(body, ".fields")).append(box);
      f.reset();
    }
    if (!find(rest, ".field")) rest.remove();
    own.fields = all(body, ".field").map(box => own.fields.find(f => f.box === box));
    body.addEventListener("submit", e => { e.preventDefault(); work(own); });
    body.addEventListener("input", () => clear(own));
    find(body, "button[type=button]").addEventListener("click", () => {
      clear(own);
      own.fields.forEach(f => f.reset());
      own.answer.append(make("p", "", words.get("own-again")));
    });
    place.append(body);
    place.hidden = false;
  };
  const inGroup = (groups, name, into) => {
    if (!groups.has(name)) {
      groups.set(name, make("fieldset", "group", make("legend", "", words.get("own-one-of"))));
      into.append(groups.get(name));
    }
    return groups.get(name);
  };


  // A book of one page has too many tables for all their forms to be opened at
  // once: there each is opened when its table comes near the screen, when an
  // address leads to it, or when the keyboard comes to what stands beside it.
  const atOnce = 20, places = all(document, ".own"), waiting = new Set(places);
  const openNow = place => { if (waiting.delete(place)) open(place); };
  if (places.length <= atOnce || typeof IntersectionObserver === "undefined") {
    places.forEach(openNow);
    return;
  }
  const tables = new Map(places.map(place => [place.parentElement, place]));
  const watch = new IntersectionObserver(met => met.filter(m => m.isIntersecting).forEach(m => {
    watch.unobserve(m.target);
    openNow(tables.get(m.target));
  }), { rootMargin: "100% 0px" });
  tables.forEach((place, table) => watch.observe(table));
  // The form behind an element and the one before it are those to which the
  // keyboard goes next.
  const openBeside = at => {
    const behind = places.findIndex(place => at === place || at.compareDocumentPosition(place) & Node.DOCUMENT_POSITION_FOLLOWING);
    places.slice(behind < 0 ? -1 : Math.max(behind - 1, 0), behind < 0 ? undefined : behind + 1).forEach(openNow);
  };
  const openAtAddress = () => {
    const at = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!at) return;
    openBeside(at);
    at.scrollIntoView();
  };
  document.addEventListener("focusin", e => openBeside(e.target));
  addEventListener("hashchange", openAtAddress);
  openAtAddress();
});
