// A pocket calculator knows no units. Where the numbers of a worked line, as
// they are printed, do not come to the printed number of its result, some are
// put in other units, or the line ends in a factor between units that is 1:
// whichever changes least. The book's worked lines are settled in the same way,
// and the costs and bounds here are those of settle.go and coherent.go.
Object.assign(bindpost, (() => {
  const k = bindpost, mostSettings = 1000, figures = 10;
  const numbers = x => Array.isArray(x) ? x.every(m => typeof m === "number") : typeof x === "number";
  const each = (x, work) => Array.isArray(x) ? x.map(work) : work(x);
  const all = (x, test) => Array.isArray(x) ? x.every(test) : test(x);
  const same = (a, b) => a.symbol === b.symbol && a.kind === b.kind && a.mul === b.mul && a.div === b.div && a.zero === b.zero;
  const inUnit = (x, u) => each(x, m => typeof m === "number" ? k.fromBase(u, m) : m);
  const scanned = symbol => {
    const [u, n] = k.scanUnit(symbol);
    return n > 0 && n === symbol.length ? u : null;
  };
  // writtenOut writes a number out, to as many figures as a worked line has at most.
  const writtenOut = x => {
    const short = Number(x.toPrecision(figures)) + 0, [mantissa, power] = String(Math.abs(short)).split("e");
    let digits = mantissa;
    if (power !== undefined) {
      const [whole, part] = mantissa.split(".").concat("");
      const n = Number(power);
      digits = n < 0 ? "0." + "0".repeat(-n - 1) + whole + part : whole + part + "0".repeat(n - part.length);
    }
    return (short < 0 ? "−" : "") + digits;
  };
  const inOther = (put, u) => {
    const texts = [].concat(inUnit(put.x, u)).map(writtenOut);
    return { text: texts.slice(0, -1).concat(k.joined(texts[texts.length - 1], u.symbol)).join(" and "), x: put.x, unit: u };
  };
  // plain reports whether what is put in reads as the number in its unit.
  const plain = put => {
    const members = [].concat(inUnit(put.x, put.unit)), texts = Array.isArray(put.x) ? put.text.split(" and ") : [put.text];
    return texts.length === members.length && members.every((m, i) => {
      const [, minus, digits, tail] = /^([-−]?)([0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?)?([^]*)$/.exec(texts[i].trim());
      return digits !== undefined && !tail.includes("×") && k.near(minus ? -Number(digits) : Number(digits), m);
    });
  };
  const others = (own, result) => {
    const list = [], base = k.base(own.unit.kind);
    if (own.text !== "" && !plain(own)) list.push(inOther(own, own.unit));
    if (own.text === "" || same(own.unit, base)) return list;
    if (result.kind === own.unit.kind && !same(result, own.unit) && !same(result, base)) list.push(inOther(own, result));
    list.push(inOther(own, base));
    for (const prefix of ["m", "k", "M", "µ"]) {
      const u = scanned(prefix + base.symbol);
      if (u && u.kind === base.kind && !same(u, own.unit)) list.push(inOther(own, u));
    }
    return list;
  };

  const unwieldy = x => {
    const size = Math.abs(x);
    return size !== 0 && (size >= 1e5 || size < 1e-4) || writtenOut(x).replace("−", "").length > 8;
  };
  const cost = (put, asPrinted) => {
    if (asPrinted) return put.text !== "" && !plain(put) ? 100 : 0;
    const c = same(put.unit, k.base(put.unit.kind)) ? 1 : 1.1;
    return all(inUnit(put.x, put.unit), m => !unwieldy(m)) ? c : c + 1;
  };
  const factorCost = f => {
    if (f === 1) return 0;
    return (k.near(f, Math.pow(10, Math.round(Math.log10(f)))) ? 1.5 : 3) + (unwieldy(f) ? 1 : 0);
  };
  const between = (got, want) => {
    if (Array.isArray(want)) {
      const i = want.findIndex((w, n) => Array.isArray(got) && n < got.length && got[n] !== 0 && w !== 0);
      return i < 0 ? 1 : between(got[i], want[i]);
    }
    const f = want / got;
    return f === 0 || !Number.isFinite(f) || k.near(f, 1) ? 1 : f;
  };
  const sameTimes = (got, factor, want) => {
    if (Array.isArray(got) || Array.isArray(want)) {
      return Array.isArray(got) && Array.isArray(want) && got.length === want.length && got.every((g, i) => sameTimes(g, factor, want[i]));
    }
    return Math.abs(got * factor - want) <= 1e-9 * Math.max(Math.abs(want), 1e-9);
  };

  // samples are what the rule comes to in the unit of its result where each
  // operand has one value more or less near to its own.
  const samplesOf = (operands, work, result) => {
    const samples = [];
    for (const by of [1, 1.0625, 0.9375, 1.03125]) {
      const at = operands.map((o, i) => {
        const share = Math.pow(by, 1 + i / 4), point = o.own.unit.kind.includes(":");
        return each(o.own.x, m => typeof m !== "number" ? m : point ? m + 10 * (share - 1) : m * share);
      });
      const got = work(at);
      if (numbers(got)) samples.push({ at, want: inUnit(got, result) });
      else if (by === 1) return [];
    }
    return samples;
  };

  // factorText is the factor from the unit that a line comes out in to that of
  // its result: 100 %, 1000 m/km.
  const factorText = (factor, result) => {
    const base = k.base(result.kind);
    for (const prefix of ["", "m", "k", "M", "µ", "c", "n", "p"]) {
      const from = prefix !== "" || base.symbol !== "" ? scanned(prefix + base.symbol) : base;
      if (!from || from.kind !== base.kind || !k.near(k.toBase(from, 1), k.toBase(result, factor))) continue;
      const u = scanned(ratio(result.symbol, from.symbol));
      if (u && k.near(k.toBase(u, factor), 1) && u.kind === "") return k.joined(writtenOut(factor), u.symbol);
    }
    return writtenOut(factor);
  };
  const ratio = (over, under) => {
    if (under === "") return over;
    const cut = s => s.includes("/") ? [s.slice(0, s.indexOf("/")), s.slice(s.indexOf("/") + 1)] : [s, ""];
    const [top, bottom] = cut(over), [head, tail] = cut(under);
    if (bottom === "" && tail === "") return top + "/" + head;
    return top === head && bottom !== "" && tail !== "" ? tail + "/" + bottom : "";
  };

  // settle tells what to put in for the operands of a rule, {name, own} each,
  // by name, and by which factor the line ends, "" for none. work works the rule
  // with bare numbers. It is null where nothing is to be settled.
  const settle = (operands, work, result) => {
    const coherent = same(result, k.base(result.kind)) && operands.every(o =>
      (plain(o.own) || o.own.text === "") && same(o.own.unit, k.base(o.own.unit.kind)));
    const samples = coherent ? [] : samplesOf(operands, work, result);
    if (samples.length === 0) return null;
    for (const o of operands) o.options = [o.own].concat(others(o.own, result));
    let best = { choice: operands.map(() => 0), factor: 1, cost: Infinity };
    const keep = choice => {
      const s = { choice: choice.slice(), factor: 1, cost: choice.reduce((sum, j, i) => sum + cost(operands[i].options[j], j === 0), 0) };
      if (s.cost >= best.cost) return;
      for (const [n, sample] of samples.entries()) {
        const got = work(choice.map((j, i) => inUnit(sample.at[i], operands[i].options[j].unit)));
        if (n === 0) s.factor = numbers(got) ? between(got, sample.want) : 1;
        if (!numbers(got) || !sameTimes(got, s.factor, sample.want)) return;
      }
      s.cost += factorCost(s.factor);
      if (s.cost < best.cost) best = s;
    };
    keep(operands.map(o => Math.max(0, o.options.findIndex(p => same(p.unit, k.base(o.own.unit.kind))))));
    const choice = operands.map(() => 0);
    for (let n = 0; n < mostSettings; n++) {
      keep(choice);
      if (best.cost === 0) break;
      const i = choice.findIndex((j, at) => j + 1 < operands[at].options.length);
      if (i < 0) break;
      choice.fill(0, 0, i);
      choice[i]++;
    }
    return {
      given: new Map(operands.map((o, i) => [o.name, o.options[best.choice[i]]])),
      factor: best.factor === 1 ? "" : factorText(best.factor, result),
    };
  };
  return { settle };
})());
