"use strict";
// What the formulas of a manual are worked with in a reader's browser. A value
// is a number in base units, a word, a list, or one of three gaps: {none},
// {unknown} and {failed}, each with its reason in words. A condition is true,
// false or a gap. Nothing here touches a page or a network.
const bindpost = (() => {
  const weight = { failed: 3, unknown: 2, none: 1 };
  const gap = x => x !== null && typeof x === "object" && !Array.isArray(x);
  const heavy = x => gap(x) ? weight[Object.keys(x)[0]] : 0;
  const worse = (a, b) => heavy(b) > heavy(a) ? b : a;
  const failed = why => ({ failed: why });
  const same = (a, b) => a === b || Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
  const number = (x, what) => Number.isFinite(x) ? x + 0 : failed(`"${what}" comes to a number too large to be worked with`);

  // two works an operation on two values, unless one of them is a gap.
  const two = (a, b, work) => {
    const w = worse(a, b);
    return gap(w) ? w : work();
  };
  const all = (args, work) => {
    const w = args.reduce(worse, 0);
    return gap(w) ? w : work();
  };

  const add = (a, b, what) => two(a, b, () => number(a + b, what));
  const sub = (a, b, what) => two(a, b, () => number(a - b, what));
  const mul = (a, b, what) => two(a, b, () => number(a * b, what));
  const div = (a, b, what, under) => two(a, b, () =>
    b === 0 ? failed(`division by nothing: "${under}" is 0`) : number(a / b, what));
  const pow = (a, b, what, base) => two(a, b, () => {
    if (b === 2) return number(a * a, what);
    if (a === 0 && b < 0) return failed(`"${what}" has no value: "${base}" is 0, and a negative power divides by it`);
    if (a < 0 && b !== Math.trunc(b)) return failed(`"${what}" has no value: "${base}" is below 0, and the power is not whole`);
    return number(Math.pow(a, b), what);
  });
  const neg = a => gap(a) ? a : -a + 0;

  const round = x => {
    const t = Math.trunc(x);
    return Math.abs(x - t) >= 0.5 ? t + Math.sign(x) : t;
  };
  const whole = (x, otherwise) => Math.abs(x - round(x)) <= 1e-9 ? round(x) : otherwise(x);
  const below = x => x === 0 ? "is 0" : x < 0 ? "is below 0" : "";
  const beyond = x => x > 1 ? "is above 1" : x < -1 ? "is below -1" : "";
  const log2 = x => x > 0.5 && x < 2 ? Math.log(x) * (1 / Math.LN2) : Math.log2(x);

  // Each function: what it gives, and what is wrong with its argument.
  const functions = {
    sqrt: [Math.sqrt, x => x < 0 ? "is below 0" : ""],
    log10: [Math.log10, below],
    log2: [log2, below],
    ln: [Math.log, below],
    exp: [Math.exp],
    sin: [Math.sin],
    cos: [Math.cos],
    tan: [Math.tan],
    asin: [x => Math.atan(x / Math.sqrt((1 - x) * (1 + x))), beyond],
    acos: [x => 2 * Math.atan(Math.sqrt((1 - x) / (1 + x))), beyond],
    atan: [Math.atan],
    abs: [Math.abs],
    sinc: [x => x === 0 ? 1 : Math.sin(x) / x],
    round: [round],
    roundup: [x => whole(x, Math.ceil)],
    rounddown: [x => whole(x, Math.floor)],
    min: [Math.min],
    max: [Math.max],
    sum: [(...x) => x.reduce((a, b) => a + b, 0)],
    count: [(...x) => x.length],
    tally: [(...x) => x.reduce((a, b) => a + b, 0)],
  };
  const call = (name, args, what, arg) => all(args, () => {
    const [value, wrong] = functions[name];
    const why = wrong ? wrong(args[0]) : "";
    return why ? failed(`${name} has no value here: "${arg}" ${why}`) : number(value(...args), what);
  });

  // of is a named value; of a list, the member that is being worked, unless
  // the index is -1. What is no value counts as not known.
  const of = (v, name, i = -1) => {
    let x = v.value(name);
    if (v.used) v.used(name);
    if (Array.isArray(x) && i >= 0) {
      if (i >= x.length) return failed(`"${name}" has only ${x.length} members, fewer than the list beside it`);
      x = x[i];
    }
    if (x === undefined || x === null) return { unknown: `${name} is not known` };
    return typeof x !== "number" || Number.isFinite(x) ? x : failed(`"${name}" is no number that can be worked with`);
  };
  // length is how many members the lists among some values have, -1 for none.
  const length = lists => lists.reduce((n, x) => Array.isArray(x) ? Math.max(n, x.length) : n, -1);
  const members = (n, work) => Array.from({ length: n }, (_, i) => work(i));
  const each = (lists, work) => {
    const n = length(lists);
    return n < 0 ? work(-1) : members(n, work);
  };
  // fold makes one value of a list.
  const fold = (name, lists, work, what, arg) => {
    const n = length(lists);
    if (n < 0) return call(name, [work(-1)], what, arg);
    if (name === "count") return n;
    if (n === 0 && name !== "sum") return { none: "the list has no members" };
    return call(name, members(n, work), what, arg);
  };
  // once works an argument when it is asked for, and only once for a member.
  const once = work => {
    let member = null, value = null;
    return i => {
      if (member !== i) [member, value] = [i, work(i)];
      return value;
    };
  };

  // column looks a row up. A row is its keys and its value; texts are the
  // arguments as they are written.
  const column = (table, rows, args, texts) => all(args, () => {
    const is = (key, x) => typeof key === "number" ? same(key, x) : key === x;
    let left = rows;
    for (let i = 0; i < args.length; i++) {
      left = left.filter(row => is(row[0][i], args[i]));
      if (left.length === 0) return failed(`the table ${table} has no row for this value of "${texts[i]}"`);
    }
    return left[0][1];
  });

  // Conditions. A test of a gap is that gap; none counts as unknown.
  const told = (x, test) => !gap(x) ? test() : "none" in x ? { unknown: x.none } : x;
  const relations = {
    below: (a, b) => a < b && !same(a, b),
    most: (a, b) => a < b || same(a, b),
    equal: same,
    least: (a, b) => a > b || same(a, b),
    above: (a, b) => a > b && !same(a, b),
  };
  const compare = (a, relation, b) => told(worse(a, b), () => relations[relation](a, b));
  const is = (x, y) => told(x, () => typeof y === "string" ? x === y : same(x, y));
  // given answers whether a value was given. Where it was not, and is a fact
  // that is missing, whatever is chosen then stands in for it.
  const given = (v, name, i) => {
    const x = v.value(name);
    const hole = Array.isArray(x) && i >= 0 && i < x.length && gap(x[i]) && "unknown" in x[i];
    if (!hole && v.given(name)) return true;
    if (hole || v.missing(name)) v.assume(name);
    return false;
  };
  const both = (a, b) => {
    if (a === false || b === true) return a;
    if (b === false || a === true) return b;
    return worse(a, b);
  };
  const not = a => gap(a) ? a : !a;
  const and = tests => tests.reduce(both, true);
  const or = tests => not(tests.reduce((a, b) => both(a, not(b)), true));
  const truths = answers => answers.map(a => gap(a) ? a : a ? 1 : 0);
  const holds = answers => Array.isArray(answers) ? and(answers) : answers;

  // cases is the first outcome whose condition is true, if all before it are
  // surely false.
  const cases = (list, otherwise) => {
    for (const [when, outcome] of list) {
      const a = when();
      if (gap(a)) return a;
      if (a) return outcome();
    }
    return otherwise();
  };

  return {
    add, sub, mul, div, pow, neg, call, of, each, fold, once, column,
    compare, is, given, and, or, not, truths, holds, cases,
  };
})();
