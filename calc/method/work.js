// The worked line of a reader's own numbers, as the book prints those of its
// example: of each step its rule, the same with numbers put in, and what that
// comes to. The middle values have as few digits as bring somebody who follows
// line by line to the printed result. A step is
//
//   name, symbol     of what is worked; symbol is "" where it has none
//   method           the method that the step belongs to
//   rule, with       as MathML, ready to stand in a page; with is "" where it would say nothing more
//   borrowed         "each of iec-size" where the step is another method's result; then it has no rule
//   result           as it is printed
//   before, round    of a result that was rounded: what the step comes to before, and "up", "down" or ""; before is "" of others
Object.assign(bindpost, (() => {
  const k = bindpost, { methods, known, together, start, inputs, chooseIn } = k.inner;
  const fewest = 4, most = 10, calculator = { unit: { symbol: "", mul: 0, div: 0, zero: 0 }, figures: 8 };
  const numbers = x => Array.isArray(x) ? x.every(m => typeof m === "number") : typeof x === "number";

  // onPaper is a value as its print stands for it.
  const onPaper = (x, f) => Array.isArray(x) ? x.map(m => onPaper(m, f)) : typeof x === "number" ? k.printed(f, x) : x;
  const isWord = x => typeof x === "string";
  // plain is how many figures a value wants: fewer than asked where the rest
  // would be noughts.
  const plain = (f, x) => {
    const members = Array.isArray(x) ? x : [x];
    for (let figures = 1; figures < f.figures; figures++) {
      if (members.every(m => typeof m !== "number" || k.near(k.printed({ unit: f.unit, figures }, m), m))) return figures;
    }
    return f.figures;
  };
  const textIn = (f, x) => k.textOf({ format: { unit: f.unit, figures: plain(f, x) } }, x);

  // printer prints the steps of one result; null where it cannot be worked.
  const printer = (d, points, g) => {
    const trail = [], top = start(d, inputs(d, points), trail), value = top.value(g.of).x;
    const steps = trail.filter(w => !(w.step.of && w.step.name === w.step.gives));
    if (steps.length === 0 || !known(value) && "failed" in value) return null;
    const p = { g, value, steps, figures: fewest, paper: new Map() };
    p.last = steps[steps.length - 1];
    p.format = step => ({ unit: step.unit, figures: p.figures });
    p.env = run => ({ value: name => p.named(run, name), given: run.given, missing: run.missing, assume: () => {} });
    p.named = (run, name) => {
      const step = run.data.step.get(name);
      if (step) return p.onPage(run, step);
      const b = p.bound(run, name);
      return b ? b.x : run.value(name).x;
    };
    // again works a step from the numbers on paper.
    p.again = (run, step) => step.work ? together(step.work(p.env(run))) : p.named(run.lend(step), step.gives);
    p.onPage = (run, step) => {
      if (!p.paper.has(run)) p.paper.set(run, new Map());
      const page = p.paper.get(run);
      if (!page.has(step)) page.set(step, onPaper(p.again(run, step), p.format(step)));
      return page.get(step);
    };
    // bound is a value that a borrower works from its own steps.
    p.bound = (run, name) => {
      const { borrower, loan } = run.source, i = run.data.input.get(name);
      if (!loan || !i) return null;
      if (!Object.prototype.hasOwnProperty.call(loan.with, name)) return p.bound(borrower, name);
      if (typeof loan.with[name] === "string") return null;
      const f = loan.as && loan.as[name] ? p.format(borrower.data.step.get(loan.as[name])) : { unit: i.unit, figures: p.figures };
      const x = loan.with[name](p.env(borrower));
      return isWord(x) ? null : { x: onPaper(x, f), f };
    };
    p.reaches = () => k.textOf(g, onPaper(p.again(p.last.run, p.last.step), calculator)) === k.textOf(g, value);
    p.text = (step, x) => isWord(x) ? x : textIn(p.format(step), x);
    return p;
  };

  // shown is what is put in for a name, {text, x, unit}; null where nothing is.
  const shown = (p, run, name) => {
    const d = run.data, step = d.step.get(name), i = d.input.get(name), c = d.constants[name];
    if (!step && !i && !c) return null;
    const x = run.value(name).x;
    if (!known(x) || Array.isArray(x) && !x.every(known)) return null;
    if (isWord(x)) return { text: x, x, unit: calculator.unit };
    if (step) return { text: p.text(step, p.onPage(run, step)), x: p.onPage(run, step), unit: step.unit };
    const b = p.bound(run, name);
    if (b) return { text: textIn(b.f, b.x), x: b.x, unit: b.f.unit };
    if (!i) return { text: c.text, x, unit: c.unit };
    const t = run.source.taken(i);
    return t.text === "" ? null : { text: t.text, x, unit: t.unit && t.unit.kind === i.unit.kind ? t.unit : i.unit };
  };
  // settled is what is put in for the names and numbers of a rule, and the
  // factor that its line ends in.
  const settled = (p, run, rule, result) => {
    const given = new Map();
    for (const [, , name] of slots(rule.set)) {
      const put = name[0] === "#" ? rule.numbers[Number(name.slice(1))] : shown(p, run, name);
      if (put) given.set(name, put);
    }
    const operands = [];
    for (const name of rule.bare ? rule.names : []) {
      const x = run.value(name).x, own = given.get(name) || { text: "", x, unit: result };
      if (isWord(own.x) || !given.has(name) && !Array.isArray(own.x)) return { given, factor: "" };
      operands.push({ name, own });
    }
    if (!rule.bare) return { given, factor: "" };
    (rule.numbers || []).forEach((own, i) => operands.push({ name: "#" + i, own }));
    const work = at => {
      const values = new Map(operands.map((o, i) => [o.name, at[i]]));
      return rule.bare({ value: name => values.get(name), given: run.given, missing: run.missing, assume: () => {} });
    };
    const s = k.settle(operands, work, result);
    if (!s) return { given, factor: "" };
    for (const [name, put] of s.given) if (put.text !== "") given.set(name, put);
    return { given, factor: s.factor };
  };

  // Setting.
  const escaped = s => s.replace(/[&<>"']/g, c => "&#" + c.charCodeAt(0) + ";");
  const spaced = name => name.replace(/_/g, " ");
  const element = (tag, s) => "<" + tag + ">" + escaped(s) + "</" + tag + ">";
  const row = parts => parts.length === 1 ? parts[0] : "<mrow>" + parts.join("") + "</mrow>";
  const bracketed = s => row([element("mo", "("), s, element("mo", ")")]);
  const symbolOf = (d, name) => (d.input.get(name) || d.step.get(name) || {}).symbol || "";
  const symbol = (d, name) => {
    const s = symbolOf(d, name), cut = s.indexOf("_");
    if (cut > 0 && cut < s.length - 1) return "<msub>" + element("mi", s.slice(0, cut)) + element("mi", spaced(s.slice(cut + 1))) + "</msub>";
    return element("mi", spaced(s || name));
  };
  const cutMinus = s => /^[-−]/.test(s) ? ["−", s.slice(1).trim()] : ["", s];
  // parted parts a printed value into sign, digits and unit; null where it is
  // written otherwise.
  const parted = printed => {
    const [sign, rest] = cutMinus(printed.trim()), digits = (/^[0-9]+(\.[0-9]+)?/.exec(rest) || [""])[0];
    const tail = rest.slice(digits.length).trim(), [unit, n] = k.scanUnit(tail);
    return digits === "" || /[0-9]/.test(tail) && n !== tail.length ? null : { sign, digits, tail, unit: n > 0 && n === tail.length ? unit : null, rest };
  };
  const numeral = (printed, place) => {
    const p = parted(printed), brackets = (s, loose, bare) => place === "b" && !bare || place === "f" && loose ? bracketed(s) : s;
    if (!p) return brackets(element("mtext", printed), printed.includes(" and "), false);
    const parts = [element("mn", p.digits)];
    if (p.sign) parts.unshift(element("mo", p.sign));
    if (p.tail) parts.push(element("mtext", p.tail === "°" || p.tail[0] === "/" ? p.tail : "\u2009" + p.tail));
    return brackets(row(parts), p.sign !== "", parts.length === 1);
  };
  const spoken = (printed, one) => {
    const p = parted(printed);
    if (!p) return printed;
    const word = p.unit && (one && p.sign + p.digits === "1" && p.unit.one || p.unit.many);
    return (p.sign && "minus ") + (word ? p.digits + " " + word : p.rest);
  };
  const slot = /\ue000(.)([^\ue001]*)\ue001/g;
  const slots = template => {
    const all = [];
    template.replace(slot, (...found) => { all.push(found.slice(0, 3)); });
    return all;
  };
  // fill fills the template of a rule: given answers with the text for a name, or "".
  const fill = (rule, d, given) => rule.set.replace(slot, (_, place, name) => {
    const number = name[0] === "#", text = given(name) || (number ? rule.numbers[Number(name.slice(1))].text : "");
    if (place === "s") return escaped(text ? spoken(text, number) : spaced(name));
    return text ? numeral(text, place) : symbol(d, name);
  });
  // scaled sets a rule times a factor.
  const scaled = (rule, html, factor) => {
    if (factor === "") return html;
    const [, aria, inner] = /^<math [^>]*aria-label="([^"]*)">([^]*)<\/math>$/.exec(html);
    const said = (rule.sum ? "open bracket " + aria + " close bracket" : aria) + " times " + escaped(spoken(factor));
    return '<math class="formula" display="block" aria-label="' + said + '">' +
      row([rule.sum ? bracketed(inner) : inner, element("mo", "×"), numeral(factor, "f")]) + "</math>";
  };
  const bare = html => html.replace(/<[^>]*>/g, "");

  // ruleOf is the rule that a step was worked by; null where it cannot be told.
  const ruleOf = (run, step) => {
    if (!step.work) return null;
    const chosen = step.choose ? chooseIn(run, step) : 0;
    const place = Array.isArray(chosen) ? chosen.map(c => typeof c === "number" ? c : -1) : [typeof chosen === "number" ? chosen : -1];
    if (place.length === 0) return null;
    return place.every(c => c === place[0]) ? step.rules[place[0]] || null : step.whole;
  };
  const before = p => {
    const { run, step } = p.last, x = p.onPage(run, step), f = p.g.format;
    if (typeof x !== "number" || !f || k.textOf(p.g, x) !== k.textOf(p.g, p.value)) return "";
    if (k.near(k.printed(f, p.value), x) || step.unit.symbol !== f.unit.symbol) return "";
    return p.text(step, x);
  };
  const line = (p, w) => {
    const { run, step } = w, d = run.data, rule = ruleOf(run, step), last = w === p.last;
    const s = {
      name: step.name, symbol: symbolOf(d, step.name), method: d.name, rule: "", with: "",
      borrowed: step.of ? step.result + " of " + step.of : "", result: "", before: "", round: "",
    };
    s.result = last ? k.textOf(p.g, p.value) : p.text(step, p.onPage(run, step));
    if (last) [s.before, s.round] = [before(p), p.g.format && p.g.format.round || ""];
    if (s.before === s.result) s.before = "";
    if (s.before === "") s.round = "";
    if (!rule) return s;
    s.rule = fill(rule, d, () => "");
    const put = settled(p, run, rule, last && p.g.format ? p.g.format.unit : last ? calculator.unit : step.unit);
    const filled = scaled(rule, fill(rule, d, name => put.given.has(name) ? put.given.get(name).text : ""), put.factor);
    if (bare(filled) !== bare(s.rule) && bare(filled).replace(/\u2009/g, " ") !== s.result) s.with = filled;
    return s;
  };

  // steps are the lines of all results, or of those named; a step that two of
  // them share stands once.
  const steps = (name, points, only) => {
    const d = methods.get(name), printers = d.gives.filter(g => !only || only.includes(g.name)).map(g => printer(d, points, g)).filter(p => p);
    for (let figures = fewest; ; figures++) {
      for (const p of printers) [p.figures, p.paper] = [figures, new Map()];
      if (figures === most || printers.every(p => p.reaches())) break;
    }
    const lines = [], done = new Map();
    for (const p of printers) {
      for (const w of p.steps) {
        const s = line(p, w), key = JSON.stringify([s.method, s.name, w.run.value(s.name).x]);
        if (!done.has(key)) {
          done.set(key, s);
          lines.push(s);
        } else if (s.before !== "" && done.get(key).before === "") {
          Object.assign(done.get(key), { result: s.result, before: s.before, round: s.round });
        }
      }
    }
    return lines;
  };
  return { steps };
})());
