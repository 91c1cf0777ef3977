"use strict";
// How a method is worked in a reader's browser.
//
// A page that has fields for a reader's own numbers calls
//
//   bindpost.run("speaker-wire", {run: "20 ft", gauge: "16 AWG", load: "8 ohm and 4 ohm", metal: null})
//
// with what was typed, by the name of the value. "" or nothing at all leaves a
// value to what usually stands; null is "don't know"; a list is one text with
// its members joined by "and", or an array of texts; of a choice it is the word
// as the book types it. A number without a unit stands in the unit of its
// field, takes[…].unit.symbol. Names of results may stand behind, as in
// bindpost.run("speaker-wire", {…}, ["loss"]), where not all are wanted. What
// comes back:
//
//   wrong     what keeps it from being worked, [] where nothing does; then no
//             results stand: [{key, says, code, ...}]. says names the value in
//             the method's words. The codes, with what comes with each:
//               missing                  nothing was typed
//               none-of, several-of      keys: of these, exactly one
//               not-here                 it is asked for in another case only
//               lengths                  with: a list of another length
//               no-word                  text; it is none of the choice's words
//               beyond                   text, from and to, "" where that side is open
//               not-whole, not-among     text; among: "4 ohm, 8 ohm"
//               need                     says is the reason, keys the values
//               borrowed                 says is the reason: a middle value lies beyond what a rule covers
//             and of a value that cannot be read, with text, what is wrong in
//             it, and try, what was likely meant, or "":
//               no-number, too-long, too-large, too-small, over-nothing,
//               decimal-comma, comma-two-ways, thousands, several, unclear,
//               unknown-unit, wrong-kind, wrong-scale, second-value, left-over, too-many
//   unusual   values beyond the usual range: [{key, says, text, from, to}]
//   asked     the keys that are asked for with these values
//   taken     [{key, label, says, text, usual, assumed}]: usual where nothing was
//             typed, assumed where it was "don't know"
//   results   [{name, label, says, x, text, number, unit, state, why}]: x is in
//             base units, state is
//             "known", "none", "unknown" or "failed"; text is what the book prints
//   verdicts  [{name, grade, words}]
//   cautions  names of cautions, in the method's order
//   assumed   keys of the values that stand in for what is not known
//   steps     [{name, method, rule, borrowed, with, result}], see work.js
//
// bindpost.takes(name) gives the values that a method takes, in order: {key,
// label, says, unit, choice, each, optional, book, ...}, and bindpost.oneOf(name)
// the groups of which exactly one is given. bindpost.has(name) tells whether its
// script is there. bindpost.work is run from values that are read already.
Object.assign(bindpost, (() => {
  const k = bindpost, methods = new Map();
  let words = {};

  // method puts a method on the list. Its values may be those of methods that
  // it borrows from, which come before it.
  const method = (name, make) => {
    const d = make(k);
    d.name = name;
    d.takes = d.takes.map(i => typeof i === "string" ? methods.get(i.split(" ")[0]).input.get(i.split(" ")[1]) : i);
    d.input = new Map(d.takes.map(i => [i.key, i]));
    d.step = new Map(d.steps.map(s => [s.name, s]));
    methods.set(name, d);
  };
  const has = name => methods.has(name);
  const isGap = x => x !== null && typeof x === "object" && !Array.isArray(x);
  const known = x => !isGap(x);
  const sorted = set => Array.from(set).sort();

  // inputs are the values of a method as they stand: typed, left to the usual
  // value, or missing. points holds {x, text, unit} by key.
  const inputs = (d, points) => {
    const group = key => d.oneOf.some(g => g.includes(key));
    const s = {
      taken: i => {
        const p = points[i.key];
        if (p && known(p.x)) return { x: p.x, text: p.text, unit: p.unit };
        if (i.usually) return { x: i.usually.x, text: i.usually.text, unit: i.usually.unit, usual: !p, assumed: !!p };
        return { x: { unknown: (p && p.instead || i.says) + words.notKnown }, text: words.dontKnow, unit: i.unit };
      },
      value: key => {
        const t = s.taken(d.input.get(key));
        return { x: t.x, rest: t.assumed ? [key] : [] };
      },
      given: key => d.input.has(key) && known(s.taken(d.input.get(key)).x),
      missing: key => {
        const i = d.input.get(key);
        return !!i && !s.given(key) && !group(key) && s.applies(i) !== false;
      },
      applies: i => i.when ? i.when(env(s, new Set())) : true,
    };
    return s;
  };

  // env answers for the names of a formula, and notes in rests what the values
  // rest on that something stood in for.
  const env = (run, rests) => ({
    value: name => run.value(name).x,
    used: name => { for (const key of run.value(name).rest) rests.add(key); },
    given: run.given,
    missing: run.missing,
    assume: name => { rests.add(name); },
  });

  // handed are the values of a borrowed method as its borrower hands them over.
  const handed = (borrower, loan) => {
    const memo = new Map(), d = methods.get(loan.of);
    const bound = key => Object.prototype.hasOwnProperty.call(loan.with, key);
    const s = {
      borrower, loan,
      value: key => {
        if (!bound(key)) return borrower.value(key);
        if (!memo.has(key)) {
          const b = loan.with[key], rests = new Set();
          const x = typeof b === "string" ? b : covered(d, d.input.get(key), b(env(borrower, rests)));
          memo.set(key, { x, rest: sorted(rests) });
        }
        return memo.get(key);
      },
      given: key => bound(key) ? known(s.value(key).x) : borrower.given(key),
      missing: key => !bound(key) && borrower.missing(key),
      taken: i => {
        if (!bound(i.key)) return borrower.source.taken(i);
        const x = s.value(i.key).x;
        return { x, text: pointText(i, x), unit: i.unit };
      },
    };
    return s;
  };
  const pointText = (i, x) => isGap(x) || Array.isArray(x) ? "" : typeof x === "string" ? printedWord(i.choice, x) : k.typed(i.unit, x);
  // covered refuses a value that a borrowed method does not cover.
  const covered = (d, i, x) => {
    if (typeof x !== "number") return x;
    const wrong = bounds(i, x, pointText(i, x));
    return wrong ? { failed: d.name + ": " + i.key, borrowed: Object.assign(wrong, { key: i.key, label: i.says }) } : x;
  };

  // start makes a run: a method being worked at one point. Each step is worked
  // when it is first asked for.
  const start = (d, source, trail) => {
    const memo = new Map(), lent = new Map();
    let refused;
    const run = {
      data: d, source,
      value: name => {
        if (memo.has(name)) return memo.get(name);
        if (d.constants[name]) return { x: d.constants[name].x, rest: [] };
        const step = d.step.get(name);
        if (!step) return source.value(name);
        if (need()) return { x: need(), rest: [] };
        const v = step.of ? lend(step).value(step.gives) : worked(step);
        memo.set(name, v);
        trail.push({ run, step });
        return v;
      },
      given: source.given,
      missing: source.missing,
      lend: step => lend(step),
    };
    const worked = step => {
      const rests = new Set();
      let x = together(step.work(env(run, rests)));
      if (isGap(x) && "failed" in x && !x.cause) {
        x = Object.assign({}, x, { failed: words.step(step.name, d.name) + x.failed, cause: true });
      }
      return { x, rest: sorted(rests) };
    };
    const lend = step => {
      if (!lent.has(step.loan)) lent.set(step.loan, start(methods.get(step.of), handed(run, step), trail));
      return lent.get(step.loan);
    };
    const need = () => {
      if (refused === undefined) {
        const unmet = d.needs.find(n => n.holds(env(run, new Set())) === false);
        refused = unmet ? { failed: unmet.why, cause: true, need: unmet.uses } : null;
      }
      return refused;
    };
    return run;
  };

  // together makes one value of a list that is none.
  const together = x => {
    if (!Array.isArray(x)) return x;
    const failed = x.find(m => isGap(m) && "failed" in m);
    if (failed) return failed;
    const kind = m => isGap(m) ? Object.keys(m)[0] + " " + m[Object.keys(m)[0]] : "";
    return x.length > 0 && x.every(m => isGap(m) && kind(m) === kind(x[0])) ? x[0] : x;
  };

  // Verdicts: the first row whose condition is true wins if all before it are
  // surely false. One that rests on a stand-in is doubtful at best.
  const verdict = (r, d, e) => {
    const assumed = new Set(), gaps = new Set();
    for (const row of r.rows) {
      if (!row.when) return capped(r, row, assumed, gaps, d);
      for (const name of row.uses) for (const key of e.value(name).rest) assumed.add(key);
      const a = row.when(env(e, gaps));
      if (isGap(a)) return { name: r.name, grade: words.cannotTell, words: a.unknown || a.failed || "" };
      if (a) return capped(r, row, assumed, gaps, d);
    }
    return { name: r.name, grade: words.cannotTell, words: words.noRow };
  };
  const capped = (r, row, assumed, gaps, d) => {
    const v = { name: r.name, grade: row.grade, words: row.words };
    const facts = set => sorted(set).map(key => d.input.has(key) ? d.input.get(key).says : key).join(", ");
    if (v.grade !== words.fits && v.grade !== words.doubtful) return v;
    if (assumed.size > 0) [v.grade, v.words] = [words.doubtful, v.words + words.standsIn + facts(assumed)];
    else if (v.grade === words.fits && gaps.size > 0) [v.grade, v.words] = [words.doubtful, v.words + words.gap + facts(gaps)];
    return v;
  };

  // work runs a method at values that are read: {x, text, unit} by key, x a
  // number in base units, a word, a list, or {unknown: why}. It gives the run,
  // the values of its results, its verdicts, and the cautions that it brings.
  const work = (name, points) => {
    const d = methods.get(name), source = inputs(d, points), run = start(d, source, []);
    return {
      run, source,
      results: d.gives.map(g => run.value(g.of)),
      verdicts: d.verdicts.map(r => verdict(r, d, run)),
      cautions: d.cautions.filter(c => !c.when || c.when(env(run, new Set())) !== false).map(c => c.id),
    };
  };

  // Printing.
  const printedWord = (choice, word) => choice && choice[word] || word;
  const stateOf = x => isGap(x) ? Object.keys(x)[0] : "known";
  const print = (g, x, number) => {
    if (isGap(x)) return "none" in x ? words.none + x.none : "unknown" in x ? words.cannotTell + ": " + x.unknown : words.unworked;
    if (!Array.isArray(x)) return typeof x === "string" ? printedWord(g.choice, x) : number(x);
    if (x.length === 0) return words.nothing;
    return x.map(m => print(g, m, number)).join(words.and);
  };
  const numberOf = (g, x) => print(g, x, v => k.number(g.format, v));
  const textOf = (g, x) => {
    if (!g.choice && Array.isArray(x) && x.length > 1 && x.every(known)) {
      return numberOf(g, x.slice(0, -1)) + words.and + k.text(g.format, x[x.length - 1]);
    }
    return print(g, x, v => k.text(g.format, v));
  };

  // Reading.
  const below = (a, b) => a < b && !k.near(a, b);
  const bounds = (i, x, text) => {
    if (i.whole && !k.near(x, Math.round(x))) return { code: "not-whole", text };
    if (i.among) {
      return i.among.some(a => k.near(a.x, x)) ? null : { code: "not-among", text, among: i.among.map(a => a.text).join(", ") };
    }
    if (i.from && below(x, i.from.x) || i.to && below(i.to.x, x)) {
      return { code: "beyond", text, from: i.from ? i.from.text : "", to: i.to ? i.to.text : "" };
    }
    return null;
  };
  const one = (i, text) => {
    if (i.choice) return Object.prototype.hasOwnProperty.call(i.choice, text) ? { x: text, text: printedWord(i.choice, text) } : { wrong: { code: "no-word", text } };
    const q = k.readAs(text, i.unit);
    if (q.code) return { wrong: { code: q.code, text: q.text, try: q.try || "" } };
    const p = { x: q.x, unit: q.unit, text: k.typed(q.unit, q.x, q.text) }, wrong = bounds(i, p.x, p.text);
    return wrong ? { wrong } : p;
  };
  // list reads the members of a list. A number without a unit takes the unit
  // that stands behind the last.
  const list = (i, typed) => {
    const parts = Array.isArray(typed) ? typed.map(t => t === null ? "-" : t.trim()) : typed.split(/\s+and\s+|\s*,\s+/).map(t => t.trim());
    const last = i.choice ? null : k.read(parts[parts.length - 1].replace(/^-(?=\s)/, "1"));
    const unit = last && !last.code && last.unit.kind === i.unit.kind && last.unit.symbol !== "" ? last.unit : i.unit;
    const members = parts.map(t => {
      if (/^-($|\s)/.test(t)) return { x: { unknown: i.says + words.notKnown }, text: "-", unit };
      const q = i.choice ? null : k.read(t);
      return one(i, q && !q.code && q.unit.symbol === "" && q.gauge === undefined ? k.joined(t, unit.symbol) : t);
    });
    const bad = members.find(m => m.wrong);
    return bad || { x: members.map(m => m.x), text: listText(members), unit };
  };
  const listText = members => {
    const symbol = members[0].unit ? members[0].unit.symbol : "";
    const alike = symbol !== "" && members.every(m => m.unit && m.unit.symbol === symbol);
    const texts = members.map(m => alike && m.text.endsWith(symbol) ? m.text.slice(0, -symbol.length).trim() : m.text);
    return texts.join(words.and) + (alike ? " " + symbol : "");
  };
  const isEmpty = t => t === undefined || typeof t === "string" && t.trim() === "" || Array.isArray(t) && t.length === 0;
  const read = (i, typed) => {
    if (typed === null) return { x: { unknown: i.says + words.notKnown }, text: words.dontKnow, unit: i.unit };
    return i.each ? list(i, typed) : one(i, String(typed).trim());
  };

  // check holds what was typed against one another, as a block is checked.
  const check = (d, points, source) => {
    const wrong = [], tell = (i, code, more) => wrong.push(Object.assign({ key: i.key, says: i.says, code }, more));
    for (const group of d.oneOf) {
      const typed = group.filter(key => points[key]), i = d.input.get(typed[1] || group[0]);
      if (typed.length !== 1) tell(i, typed.length ? "several-of" : "none-of", { keys: group });
    }
    const first = new Map();
    for (const i of d.takes) {
      const p = points[i.key], applies = source.applies(i);
      if (p && applies === false) tell(i, "not-here");
      if (!p && !i.optional && !i.usually && applies === true && !d.oneOf.some(g => g.includes(i.key))) tell(i, "missing");
      if (!p || !i.each || !known(p.x)) continue;
      const other = first.get(i.each);
      if (!other) first.set(i.each, i);
      else if (points[other.key].x.length !== p.x.length) tell(i, "lengths", { with: other.says });
    }
    return wrong;
  };
  const unusual = (d, points) => d.takes.filter(i => {
    const x = points[i.key] && points[i.key].x, odd = m => typeof m === "number" && (below(m, i.usual.from.x) || below(i.usual.to.x, m));
    return i.usual && x !== undefined && (Array.isArray(x) ? x.some(odd) : odd(x));
  }).map(i => ({ key: i.key, says: i.says, text: points[i.key].text, from: i.usual.from.text, to: i.usual.to.text }));

  // unmet tells why the values cannot be worked together, where they cannot.
  const unmet = (d, values) => {
    for (const v of values) {
      if (!isGap(v.x)) continue;
      if (v.x.need) return [{ key: v.x.need[0] || "", says: v.x.failed, code: "need", keys: v.x.need }];
      if (v.x.borrowed) return [Object.assign({}, v.x.borrowed, { code: "borrowed", key: "", says: v.x.borrowed.label })];
    }
    return [];
  };
  // faced is what is typed, where the one that was replied to of several is not
  // known: then the others are unknown for that reason, and not of themselves.
  const faced = (d, points) => {
    const all = Object.assign({}, points);
    for (const group of d.oneOf) {
      const typed = group.filter(key => points[key]);
      if (typed.length !== 1 || known(points[typed[0]].x)) continue;
      const instead = d.input.get(typed[0]).says;
      for (const key of group) if (!all[key] && !d.input.get(key).usually) all[key] = Object.assign({ instead }, points[typed[0]]);
    }
    return all;
  };
  const run = (name, typed, only) => {
    const d = methods.get(name), points = {}, none = { unusual: [], taken: [], results: [], verdicts: [], cautions: [], assumed: [], steps: [] };
    let wrong = [];
    for (const i of d.takes) {
      if (isEmpty(typed[i.key])) continue;
      points[i.key] = read(i, typed[i.key]);
      if (points[i.key].wrong) wrong.push(Object.assign({ key: i.key, says: i.says }, points[i.key].wrong));
    }
    if (wrong.length) return Object.assign(none, { wrong, asked: d.takes.map(i => i.key) });
    const facing = faced(d, points), w = work(name, facing), asked = d.takes.filter(i => w.source.applies(i) !== false).map(i => i.key);
    wrong = check(d, points, w.source);
    const shown = d.gives.map((g, n) => ({ g, v: w.results[n] })).filter(r => !only || only.includes(r.g.name));
    if (wrong.length === 0) wrong = unmet(d, shown.map(r => r.v));
    if (wrong.length) return Object.assign(none, { wrong, asked, unusual: unusual(d, points) });
    const taken = d.takes.filter(i => w.run.given(i.key)).map(i => Object.assign({ key: i.key, label: i.label, says: i.says }, w.source.taken(i)));
    return {
      wrong, asked, unusual: unusual(d, points), taken,
      results: shown.map(r => resultOf(r.g, r.v.x)),
      verdicts: w.verdicts, cautions: w.cautions,
      assumed: taken.filter(t => t.assumed).map(t => t.key),
      steps: k.steps(name, facing, only),
    };
  };
  const resultOf = (g, x) => {
    const state = stateOf(x);
    return {
      name: g.name, label: g.label, says: g.says, x, text: textOf(g, x), number: numberOf(g, x),
      unit: g.choice ? "" : g.format.unit.symbol, state, why: state === "known" ? "" : x[state],
    };
  };

  return {
    method, has, run, work, textOf,
    words: w => { words = w; words.step = (step, name) => w.stepOf.replace("%s", step).replace("%s", name); },
    takes: name => methods.get(name).takes,
    oneOf: name => methods.get(name).oneOf,
    gives: name => methods.get(name).gives,
    // What work.js builds on.
    inner: { methods, known, together, start, inputs, chooseIn: (run, step) => step.choose(env(run, new Set())) },
  };
})());
