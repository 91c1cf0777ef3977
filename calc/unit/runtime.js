"use strict";
// How values are read as people type them, and printed again, in a reader's
// browser: the rules of reading and of rounding are those that the book is
// pressed by. A unit is {symbol, mul, div, zero, kind, gauge}: in base units x
// of it is (x - zero)*mul/div. What cannot be read comes back with a code that
// says why; its words are the page's.
Object.assign(bindpost, (() => {
  // Printing. A decimal is 0.DIGITS times ten to the power of point.
  const kept = 12, mostPlaces = 15, largestPlain = 12, smallestPlain = -5, noise = -9;
  const tidy = d => {
    const led = d.digits.replace(/^0+/, "");
    const digits = led.replace(/0+$/, "");
    return digits ? { negative: d.negative, digits, point: d.point - d.digits.length + led.length } : { negative: false, digits: "", point: 0 };
  };
  // cut takes a number to twelve figures. What lies exactly half way between
  // two goes to the even one.
  const cut = x => {
    const size = Math.abs(x);
    let [mantissa, power] = size.toExponential(kept - 1).split("e");
    if (/^.{13}50*e/.test(size.toExponential(20))) {
      const [exact, scale] = size.toExponential(100).split("e");
      const half = /^50*$/.test(exact.slice(kept + 1));
      if (half && Number(exact[kept]) % 2 === 0) [mantissa, power] = [exact.slice(0, kept + 1), scale];
    }
    return tidy({ negative: x < 0, digits: mantissa.replace(".", ""), point: Number(power) + 1 });
  };
  const next = d => {
    const head = d.digits.replace(/9+$/, "");
    if (head === "") return { negative: d.negative, digits: "1", point: d.point + 1 };
    const last = head.length - 1;
    return { negative: d.negative, digits: head.slice(0, last) + (Number(head[last]) + 1), point: d.point };
  };
  const round = (d, figures, way) => {
    if (figures >= d.digits.length) return d;
    const away = way === "up" ? !d.negative : way === "down" ? d.negative : figures >= 0 && d.digits[figures] >= "5";
    const last = d.point - figures;
    const short = { negative: d.negative, digits: d.digits.slice(0, Math.max(figures, 0)), point: d.point };
    if (!away) return tidy(short);
    return short.digits === "" ? { negative: d.negative, digits: "1", point: last + 1 } : next(short);
  };
  const plain = (d, places) => {
    let whole = "0", fraction = "";
    if (d.point >= d.digits.length) {
      if (d.digits) whole = d.digits + "0".repeat(d.point - d.digits.length);
    } else if (d.point > 0) [whole, fraction] = [d.digits.slice(0, d.point), d.digits.slice(d.point)];
    else fraction = "0".repeat(-d.point) + d.digits;
    return (d.negative ? "−" : "") + whole + (places > 0 ? "." + fraction.padEnd(places, "0") : "");
  };
  const raised = n => String(n).replace(/./g, c => "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"["-0123456789".indexOf(c)]);
  const tenPower = (d, figures) =>
    plain({ negative: d.negative, digits: d.digits, point: 1 }, figures - 1) + " × 10" + raised(d.point - 1);
  const float = d => (d.negative ? -1 : 1) * Number("0." + (d.digits || "0") + "e" + d.point) + 0;

  const toBase = (u, x) => u.mul === 0 ? x + 0 : (x - u.zero) * u.mul / u.div + 0;
  const fromBase = (u, v) => u.mul === 0 ? v : v * u.div / u.mul + u.zero;

  const figuresOf = f => Math.min(f.figures, mostPlaces);
  const placesOf = (f, d) => {
    if (!(f.figures > 0)) return Math.max(0, Math.min(f.places || 0, mostPlaces));
    return d.digits === "" ? 0 : Math.max(0, figuresOf(f) - d.point);
  };
  const rounded = (f, v) => {
    let x = fromBase(f.unit, v);
    if (Math.abs(x) === Infinity && Math.abs(v) !== Infinity) x = Math.sign(x) * Number.MAX_VALUE;
    let d = cut(x);
    if (f.unit.zero !== 0) {
      const zero = cut(f.unit.zero);
      if (zero.point > d.point) d = round(d, kept - zero.point + d.point);
    }
    if (f.figures > 0) return round(d, figuresOf(f), f.round);
    const places = placesOf(f, d);
    return d.point + places <= noise ? tidy({ digits: "" }) : round(d, d.point + places, f.round);
  };
  // number prints a value in base units as a number of the format's unit.
  const number = (f, v) => {
    const d = rounded(f, v);
    if (f.unit.gauge && placesOf(f, d) === 0 && (d.digits === "" || d.negative) && float(d) >= -3) return 1 - float(d) + "/0";
    if (d.point > largestPlain) return tenPower(d, Math.max(d.digits.length, Math.min(figuresOf(f) || 0, kept)));
    if (f.figures > 0 && d.digits !== "" && d.point < smallestPlain) return tenPower(d, figuresOf(f));
    return plain(d, placesOf(f, d));
  };
  const joined = (n, symbol) => {
    if (symbol === "") return n;
    if (symbol.startsWith("1/")) return n + symbol.slice(1);
    return /^°(?![CF])/.test(symbol) ? n + symbol : n + " " + symbol;
  };
  const text = (f, v) => joined(number(f, v), f.unit.symbol);
  const printed = (f, v) => toBase(f.unit, float(rounded(f, v)));
  const near = (a, b) => a === b || Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
  // typed prints a value in its own unit with as few digits as it needs.
  const typed = (unit, v, as) => {
    for (let places = 0; places < 7; places++) {
      if (near(printed({ unit, places }, v), v)) return text({ unit, places }, v);
    }
    return as || text({ unit, figures: 6 }, v);
  };

  // The units that are read: filled in by units, below.
  const index = new Map(), bases = new Map();
  let tails = [], parted = [], slang = new Map(), dimensions = [];
  const count = { symbol: "", mul: 0, div: 0, zero: 0, kind: "", gauge: false, dims: [] };
  const gcd = (a, b) => b === 0 ? a : gcd(b, a % b);
  const reduced = (mul, div) => {
    const whole = x => x === Math.trunc(x) && x >= 1 && x <= 9007199254740992;
    if (!whole(mul) || !whole(div)) return [mul, div];
    const d = gcd(mul, div);
    return [mul / d, div / d];
  };
  const kindOf = (dims, scale) => dims.join().replace(/(,0)+$/, "").replace(/^0$/, "") + (scale ? ":" + scale : "");
  const isLetter = c => c !== undefined && c !== "" && c.toLowerCase() !== c.toUpperCase();
  const endsInLetter = s => isLetter(s[s.length - 1]);
  const run = (prefix, word) => /^(kilo|mega)$/.test(prefix) && word[0] === "o" ? prefix.slice(0, -1) + word : prefix + word;
  const enter = (r, p) => {
    const [mul, div] = reduced((r.mul || 1) * p.mul, (r.div || 1) * p.div);
    const unit = {
      symbol: p.mark + (r.print || r.symbol), mul, div, zero: r.zero || 0,
      kind: kindOf(r.dims, r.scale), gauge: r.scale === "gauge", dims: r.dims, point: !!r.scale,
      one: run(p.word, r.one), many: run(p.word, r.many || r.one + "s"),
    };
    for (const mark of p.also ? [p.mark, p.also] : [p.mark]) {
      for (const spelling of [r.symbol].concat(r.also || [])) index.set(mark + spelling, unit);
    }
    const words = [unit.one, unit.many];
    for (const word of r.words || []) if (p.mark === "" || endsInLetter(word)) words.push(p.word + word);
    for (const word of words) if (!index.has(word)) index.set(word, unit);
  };
  // units fills in the table of units.
  const units = t => {
    const none = { mark: "", word: "", mul: 1, div: 1 };
    for (const r of t.rows) {
      if (!r.prefixed) enter(r, none);
      for (const p of t.prefixes) if ((r.prefixes || "").split(" ").includes(p.mark)) enter(r, p);
    }
    [tails, parted, slang] = [t.tails, t.parted, new Map(t.slang)];
    dimensions = t.dimensions;
    for (const symbol of t.bases) {
      const u = symbol === "" ? count : scanUnit(symbol)[0];
      bases.set(u.kind, u);
    }
  };

  // Scanning: each function answers for the head of a text.
  const head = (pattern, s) => (pattern.exec(s) || [""])[0];
  const spaces = s => head(/^[\t\v\f \u0085\u00a0\u1680\u2000-\u200b\u2028\u2029\u202f\u205f\u2060\u3000\ufeff]*/, s).length;
  const digits = s => head(/^[0-9]*/, s).length;
  const minus = s => head(/^[-−‐‑–]/, s).length;
  const scanNumber = s => head(/^[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?/, s).length;
  const lowered = s => s.replace(/[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]/g, c => "-0123456789"["⁻⁰¹²³⁴⁵⁶⁷⁸⁹".indexOf(c)]);
  const scanExponent = (s, half) => {
    const m = /^\^([-−‐‑–]?)([0-9]*)/.exec(s);
    if (m) {
      let [n, power] = [m[0].length, (m[1] && "-") + m[2]];
      if (half && s.startsWith(".5", n)) [n, power] = [n + 2, power + ".5"];
      return m[2] ? [power, n] : ["", 0];
    }
    const high = head(/^[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]{1,40}/, s);
    return /^⁻?[^⁻]+$/.test(high) ? [lowered(high), high.length] : ["", 0];
  };
  const scanTenPower = s => {
    let n = spaces(s);
    if (!/^[×x·*]/.test(s.slice(n))) return ["", 0];
    n += 1 + spaces(s.slice(n + 1));
    if (!s.startsWith("10", n)) return ["", 0];
    const [power, m] = scanExponent(s.slice(n + 2), false);
    return m === 0 || power.length > 4 ? ["", 0] : [power, n + 2 + m];
  };
  const vulgar = { "½": [1, 2], "⅓": [1, 3], "⅔": [2, 3], "¼": [1, 4], "¾": [3, 4], "⅛": [1, 8], "⅜": [3, 8], "⅝": [5, 8], "⅞": [7, 8] };
  const scanSimple = s => {
    if (vulgar[s[0]]) return [{ whole: 0, top: vulgar[s[0]][0], under: vulgar[s[0]][1] }, 1];
    const m = /^([0-9]+)[/⁄]([0-9]+)/.exec(s);
    return m && m[0].length <= 41 ? [{ whole: 0, top: Number(m[1]), under: Number(m[2]) }, m[0].length] : [null, 0];
  };
  const scanFraction = s => {
    const simple = scanSimple(s);
    if (simple[1]) return simple;
    const first = digits(s);
    if (first === 0 || first > 40) return [null, 0];
    const gap = spaces(s.slice(first)), rest = s.slice(first + gap);
    const [f, n] = scanSimple(rest);
    if (n === 0 || gap === 0 && digits(rest) > 0) return [null, 0];
    f.whole = Number(s.slice(0, first));
    f.mixed = true;
    return [f, first + gap + n];
  };

  const alike = s => s.replace(/μ/g, "µ").replace(/\u2126/g, "Ω");
  const isNameHead = s => s !== "" && (/[0-9_]/.test(s[0]) || isLetter(s[0]));
  const scanLetters = s => {
    if (/^[%'"′″]/.test(s)) return [s[0], 1];
    if (/^[°º˚]/.test(s)) return ["°", 1];
    if (s[0] === "℃" || s[0] === "℉") return [s[0] === "℃" ? "°C" : "°F", 1];
    let n = 0;
    while (n < 64 && isLetter(s[n])) n++;
    return [alike(s.slice(0, n)), n];
  };
  const scanSymbol = s => {
    const [word, n] = scanLetters(s);
    if (n === 0) return [null, 0];
    for (const t of tails) {
      const at = n + (t.spaced ? spaces(s.slice(n)) : 0);
      if (word === t.head && s.startsWith(t.tail, at) && !isNameHead(s.slice(at + t.tail.length))) {
        return [index.get(t.symbol), at + t.tail.length];
      }
    }
    return index.has(word) ? [index.get(word), n] : [null, 0];
  };
  const scanPower = (s, isLength) => {
    if (isLength && /^[23]/.test(s)) return [2 * Number(s[0]), 1];
    const [power, n] = scanExponent(s, true);
    const p = Number(power);
    return n === 0 || p === 0 || Math.abs(p) > 12 ? [2, 0] : [2 * p, n];
  };
  const scanPart = s => {
    const [unit, n] = scanSymbol(s);
    if (!unit) return [null, 0];
    const [halves, m] = scanPower(s.slice(n), unit.kind === "2");
    if (isNameHead(s.slice(n + m)) && (m > 0 || endsInLetter(s.slice(0, n)))) return [null, 0];
    return [{ unit, halves, over: false, count: 0 }, n + m];
  };
  const scanJoint = (s, first) => {
    const none = n => [{ over: false, count: 0 }, n];
    let n = first ? 0 : spaces(s);
    const rest = s.slice(n);
    if (rest[0] === "/") n++;
    else if (first && rest.startsWith("1/")) n += 2;
    else if (!first && rest.startsWith("per ")) n += 4;
    else if (!first && /^[*·]/.test(rest)) return none(n + 1 + spaces(rest.slice(1)));
    else return none(n);
    n += spaces(s.slice(n));
    const m = first ? null : /^(100|1000)(?![0-9])/.exec(s.slice(n));
    if (m) n += m[0].length + spaces(s.slice(n + m[0].length));
    return [{ over: true, count: m ? Number(m[0]) : 0 }, n];
  };
  const power = p => p.over ? -p.halves : p.halves;
  const fits = (p, first) => p.unit.point ? first && power(p) === 2 : p.count === 0 || p.unit.kind === "2";
  const times = (x, n) => {
    let product = 1;
    for (let i = 0; i < n; i++) product *= x;
    return product;
  };
  const factor = p => {
    let mul = p.unit.mul || 1, div = p.unit.div || 1;
    if (p.halves % 2 === 0) {
      if (p.halves < 0) [mul, div] = [div, mul];
      const n = Math.abs(p.halves) / 2;
      [mul, div] = [times(mul, n), times(div, n)];
    } else [mul, div] = [Math.pow(mul / div, p.halves / 2), 1];
    if (p.over) [mul, div] = [div, mul];
    return [mul, p.count ? div * p.count : div];
  };
  // spoken puts a compound unit into words, as of one or of many.
  const spoken = (parts, form) => {
    const raisedWord = (word, p) => {
      const halves = Math.abs(p.halves), isLength = p.unit.kind === "2";
      if (halves === 2) return word;
      if (isLength && (halves === 4 || halves === 6)) return (halves === 4 ? "square " : "cubic ") + word;
      if (halves === 1) return "root " + word;
      return word + (halves === 4 ? " squared" : halves === 6 ? " cubed" : " to the power " + halves / 2);
    };
    const last = parts.map(p => power(p) > 0).lastIndexOf(true), over = parts.filter(p => power(p) > 0), under = parts.filter(p => power(p) < 0);
    return over.map(p => raisedWord(p === parts[last] ? p.unit[form] : p.unit.one, p))
      .concat(under.map(p => "per " + (p.count ? p.count + " " + raisedWord(p.unit.many, p) : raisedWord(p.unit.one, p)))).join(" ");
  };
  const raisedTo = halves => halves === 2 ? "" : halves % 2 ? "^" + halves / 2 : raised(halves / 2);
  const compose = parts => {
    if (parts.length === 1 && power(parts[0]) === 2) return parts[0].unit;
    const u = { symbol: "", mul: 1, div: 1, zero: 0, dims: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0], gauge: false, point: false };
    parts.forEach((p, i) => {
      u.symbol += (p.over ? i ? "/" : "1/" : i ? " " : "") + (p.count ? p.count + " " : "") + p.unit.symbol + raisedTo(p.halves);
      p.unit.dims.forEach((e, d) => { u.dims[d] += e * power(p) / 2; });
      const [mul, div] = factor(p);
      [u.mul, u.div] = reduced(u.mul * mul, u.div * div);
    });
    u.kind = kindOf(u.dims);
    [u.one, u.many] = [spoken(parts, "one"), spoken(parts, "many")];
    return u.mul / u.div > 0 && Number.isFinite(u.mul / u.div) && u.dims.every(e => Math.abs(e) < 127) ? u : null;
  };
  // base is the unit in which values of a kind are kept.
  const base = kind => {
    if (!bases.has(kind)) {
      const parts = kind.split(",").map((halves, i) => ({ unit: index.get(dimensions[i]), halves: Number(halves), over: false, count: 0 }));
      bases.set(kind, compose(parts.filter(p => p.halves !== 0)));
    }
    return bases.get(kind);
  };
  // scanUnit reads the longest unit at the head of a text.
  const scanUnit = s => {
    const parts = [];
    let end = 0;
    while (parts.length < 12) {
      const [joint, n] = scanJoint(s.slice(end), parts.length === 0);
      const [part, m] = scanPart(s.slice(end + n));
      if (m === 0) break;
      [part.over, part.count] = [joint.over, joint.count];
      if (!fits(part, parts.length === 0)) break;
      parts.push(part);
      end += n + m;
      if (part.unit.point) break;
    }
    const u = parts.length ? compose(parts) : null;
    return u ? [u, end] : [count, 0];
  };

  // Marks between the digits of a number: which of them stand, and what the
  // number must have meant.
  const scanGroups = s => {
    let n = digits(s);
    const groups = [{ mark: "", digits: s.slice(0, n) }];
    while (groups.length < 12) {
      const m = spaces(s.slice(n)) || head(/^[,._'’]/, s.slice(n)).length;
      const d = digits(s.slice(n + m));
      if (m === 0 || d === 0 || d > 40) break;
      const mark = s.slice(n, n + m), after = s.slice(n + m + d);
      if (!/^[,._]$/.test(mark) && (d !== 3 || /^[/⁄]/.test(after))) break;
      groups.push({ mark, digits: s.slice(n + m, n + m + d) });
      n += m + d;
    }
    return [groups, n];
  };
  const join = groups => groups.map(g => g.digits).join("");
  const readingOf = groups => {
    const last = groups[groups.length - 1], marks = groups.slice(1);
    const commas = marks.filter(g => g.mark === ",").length, points = marks.filter(g => g.mark === ".").length;
    const threes = marks.slice(0, -1).every(g => g.digits.length === 3), lastThree = last.digits.length === 3;
    const every = groups.length - 1;
    if (!threes) return commas === every ? "several" : "unclear";
    if (last.mark === "," && commas === 1) {
      return groups.length === 2 && lastThree && /[1-9]/.test(groups[0].digits) ? "comma-two-ways" : "decimal-comma";
    }
    if (last.mark === "." && points === 1 || lastThree && points === 0 || lastThree && points === every) return "thousands";
    return commas === every ? "several" : "unclear";
  };
  const separated = s => {
    const [groups, n] = scanGroups(s);
    if (!groups.slice(1).some(g => g.mark !== ".") && groups.length <= 2) return null;
    const last = groups[groups.length - 1], tail = s.slice(n), code = readingOf(groups);
    const decimal = join(groups.slice(0, -1)) + "." + last.digits + tail, whole = join(groups) + tail;
    const points = groups.slice(1).every(g => g.mark === ".");
    const wrong = { code, text: s.slice(0, n) };
    if (code === "decimal-comma" || code === "thousands" && last.mark === "." && !points) wrong.try = decimal;
    else if (code === "thousands" || code === "comma-two-ways") wrong.try = whole;
    return wrong;
  };

  // amount reads the number at the head of a text; n is how long it is.
  const amount = s => {
    const n = scanNumber(s);
    if (n > 40) return { code: "too-long", text: s };
    const [f, m] = scanFraction(s);
    if (m > 0 && f.under === 0) return { hollow: true, gauged: !f.mixed && f.top >= 1 && f.top <= 4, gauge: 1 - f.top, n: m };
    if (m > 0) {
      const value = (f.whole * f.under + f.top) / f.under;
      return { value, zero: value === 0, n: m };
    }
    if (n === 0) return { code: s === "" ? "missing" : "no-number", text: s };
    const marked = separated(s);
    if (marked) return marked;
    const literal = s.slice(0, n), [ten, t] = /[eE]/.test(literal) ? ["", 0] : scanTenPower(s.slice(n));
    const value = Number(ten ? literal + "e" + ten : literal);
    if (!Number.isFinite(value)) return { code: "too-large", text: literal };
    return {
      value, n: n + t, whole: /^[0-9]+$/.test(literal), zero: !/[1-9]/.test(literal.split(/[eE]/)[0]),
      gauged: /^0{2,4}$/.test(literal), gauge: 1 - n,
    };
  };
  const unitAt = s => {
    const gap = spaces(s), [unit, n] = scanUnit(s.slice(gap));
    return n === 0 ? [count, 0] : [unit, gap + n];
  };
  // smaller reads the 6 in of 5 ft 6 in.
  const smaller = (s, a, unit, sign) => {
    for (const p of parted) {
      if (unit !== index.get(p.large) || !a.whole) continue;
      const gap = spaces(s), b = amount(s.slice(gap));
      if (b.code || b.hollow) return null;
      const [u, n] = unitAt(s.slice(gap + b.n));
      if (u !== index.get(p.small)) return null;
      const taken = gap + b.n + n;
      if (b.value >= p.many) return { code: "too-many", text: s.slice(gap, taken), n: taken };
      return { x: toBase(u, sign * (a.value * p.many + b.value)), n: taken };
    }
    return null;
  };
  // unknownUnit says which unit of the wanted kind was likely meant, where
  // there is one: by its slang, or by other capitals.
  const unknownUnit = (word, before, after, want) => {
    const fits = u => u && (!want || u.kind === want.kind), said = index.get(slang.get(word));
    const alikes = Array.from(index.keys()).filter(k => k.toLowerCase() === alike(word).toLowerCase() && fits(index.get(k)));
    const meant = Array.from(new Set(fits(said) ? [said.symbol] : alikes.map(k => index.get(k).symbol)));
    const wrong = { code: "unknown-unit", text: word };
    if (meant.length === 1) wrong.try = before.trim() + " " + meant[0] + after;
    return wrong;
  };
  const leftOver = (s, at, unit, want) => {
    const rest = s.slice(at), word = head(/^[^\s/*·,;()]+/, rest) || rest;
    if (digits(rest) > 0 || minus(rest) && digits(rest.slice(1)) > 0) return { code: "second-value", text: rest };
    if (unit.symbol !== "" || /^[.,;/^]/.test(rest)) return { code: "left-over", text: rest };
    return unknownUnit(word, s.slice(0, at), rest.slice(word.length), want);
  };
  // read reads a typed value: {x, unit, text}, x in base units, or {code}. A
  // unit that is wanted only tells what was likely meant.
  const read = (typedText, want) => {
    const s = typedText.trim();
    if (s.length > 200) return { code: "too-long", text: s };
    let at = minus(s) || head(/^\+/, s).length;
    const sign = minus(s) ? -1 : 1;
    at += spaces(s.slice(at));
    const a = amount(s.slice(at));
    if (a.code) return a;
    let [unit, n] = unitAt(s.slice(at + a.n));
    at += a.n + n;
    if (a.hollow && a.gauged && unit.symbol === "") unit = index.get("AWG");
    if (unit.gauge && a.gauged && sign > 0) [a.value, a.hollow, a.zero] = [a.gauge, false, true];
    if (a.hollow) return { code: "over-nothing", text: s };
    const q = { x: toBase(unit, sign * a.value), unit, text: s, number: sign * a.value };
    if (a.gauged && sign > 0) q.gauge = a.gauge;
    const second = smaller(s.slice(at), a, unit, sign);
    if (second && second.code) return second;
    if (second) [q.x, at] = [second.x, at + second.n];
    if (!Number.isFinite(q.x)) return { code: "too-large", text: s };
    if (!a.zero && (q.number === 0 || q.x === 0 && unit.zero === 0)) return { code: "too-small", text: s };
    at += spaces(s.slice(at));
    return at < s.length ? leftOver(s, at, unit, want) : q;
  };
  // readAs reads a value of the kind of a unit, in whichever unit. A number
  // without a unit stands in that one, which is printed beside the field; where
  // a sound level is wanted, dB is dB SPL.
  const readAs = (typedText, want) => {
    const q = read(typedText, want);
    if (q.code) return q;
    if (q.unit.symbol === "" && want.symbol !== "" || want.kind === "0,0,0,0,0,0,2:sound" && q.unit === index.get("dB")) {
      const n = want.gauge && q.gauge !== undefined ? q.gauge : q.number;
      return { x: toBase(want, n), unit: want, text: joined(q.text.replace(/\s*dB$/, ""), want.symbol), number: n };
    }
    if (q.unit.kind === want.kind) return q;
    // Of the same dimension, and counted from elsewhere or on another scale.
    const sameDims = q.unit.kind.split(":")[0] === want.kind.split(":")[0];
    return { code: sameDims && q.unit.symbol !== "" ? "wrong-scale" : "wrong-kind", text: q.text, unit: q.unit.symbol };
  };

  return { units, read, readAs, number, text, printed, typed, joined, near, toBase, fromBase, scanUnit, base };
})());
