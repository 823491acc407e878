// Reads what a person typed into an answer box: the twin of src/measure/reading.rs
// to the same last digit and words. tests/vectors/readings.json holds both to it.
//   Reading.load(table)              the table that reading_table_json writes
//   Reading.read(typed, askedName)   { outcome, value, echo, why, unit, is, wanted, near }
const Reading = (() => {
  'use strict';

  const [MOST_CHARACTERS, TYPED_DIGITS] = [200, 10];
  const VULGAR = {
    '½': [1, 2], '¼': [1, 4], '¾': [3, 4], '⅛': [1, 8], '⅜': [3, 8], '⅝': [5, 8], '⅞': [7, 8],
    '⅓': [1, 3], '⅔': [2, 3], '⅕': [1, 5], '⅖': [2, 5], '⅗': [3, 5], '⅘': [4, 5], '⅙': [1, 6], '⅚': [5, 6],
  };
  const SUPERSCRIPTS = '⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹';
  const FOLDS = { '²': '2', '³': '3', '¹': '1', '½': '.5', 'μ': 'µ', '∆': 'δ', 'º': '°', '˚': '°' };
  for (const [signs, to] of [['^()', ''], ['·*⋅∙•×-−–⁻‑‐', '.'], ['′’‘', "'"], ['″”“', '"'], ['⁄∕', '/']]) {
    for (const sign of signs) FOLDS[sign] = to;
  }

  let mark = '.';
  let WHY = {}; // why something cannot be read, in words
  let thatIs = '';
  let units = [];
  let bySpelling = new Map();

  // Why there is no value; caught in `read`.
  class Refusal { constructor(fields) { this.fields = fields; } }
  const unreadable = (why) => new Refusal({ outcome: 'unreadable', why });
  const fold = (letter) => Array.from(letter.toLowerCase(), (c) => (c in FOLDS ? FOLDS[c] : c)).join('');
  const folded = (text) => text.trim().replace(/\.+$/, '').split(/\s+/)
    .map((word) => (/^per$/i.test(word) ? '/' : Array.from(word, fold).join(''))).join('');

  function load(table) {
    mark = table.decimal;
    [WHY, thatIs] = [table.why, table.that_is];
    units = table.units.map((row) => Object.assign({ offset: 0, one: row.name }, row));
    bySpelling = new Map();
    for (const unit of units) {
      for (const spelling of new Set([unit.name, ...unit.spellings].map(folded))) {
        if (!bySpelling.has(spelling)) bySpelling.set(spelling, []);
        bySpelling.get(spelling).push(unit);
      }
    }
  }

  // A value of one unit in another, or null.
  function convert(value, from, to) {
    if (from.name === to.name) return value;
    if (from.dimension !== to.dimension || (to.offset > 0 && !(from.offset > 0))) return null;
    if (from.offset > 0 && !(to.offset > 0)) return value * from.factor / to.factor;
    return (value * from.factor + from.offset - to.offset) / to.factor;
  }

  function unitFor(text, asked) {
    const list = bySpelling.get(folded(text) || null) || []; // "()" is not the plain unit
    return list.find((unit) => unit.name === asked.name)
      || list.find((unit) => convert(0, unit, asked) !== null)
      || list[0];
  }

  // Letters changed, added, left out or swapped between two texts.
  function distance(left, right) {
    const a = Array.from(left);
    const b = Array.from(right);
    const most = a.length + b.length;
    const at = Array.from({ length: a.length + 2 }, () => new Array(b.length + 2).fill(most));
    for (let i = 0; i <= a.length; i += 1) at[i + 1][1] = i;
    for (let j = 0; j <= b.length; j += 1) at[1][j + 1] = j;
    const lastRow = new Map();
    for (let i = 1; i <= a.length; i += 1) {
      let lastColumn = 0;
      for (let j = 1; j <= b.length; j += 1) {
        const row = lastRow.get(b[j - 1]) || 0;
        const column = lastColumn;
        const same = a[i - 1] === b[j - 1];
        if (same) lastColumn = j;
        const swapped = at[row][column] + (i - row) + (j - column) - 1;
        at[i + 1][j + 1] = Math.min(at[i][j] + (same ? 0 : 1), at[i + 1][j] + 1, at[i][j + 1] + 1, swapped);
      }
      lastRow.set(a[i - 1], i);
    }
    return at[a.length + 1][b.length + 1];
  }

  function near(text) {
    const length = Array.from(text).length;
    if (length < 2) return null;
    let best = null;
    let least = Infinity;
    for (const unit of units) {
      for (const name of [unit.name, ...unit.spellings]) {
        const size = Array.from(name).length;
        if (size < 2) continue;
        const far = distance(text.toLowerCase(), name.toLowerCase());
        const most = Math.min(4, Math.max(1, Math.floor(Math.max(size, length) / 3)));
        if (far <= most && far < least) [best, least] = [name, far];
      }
    }
    return best;
  }

  // At most so many digits, halves away from zero on the shortest decimal,
  // whole digits never dropped, dressed with mark, minus sign and gaps.
  function shown(value, significant) {
    const [mantissa, power] = Math.abs(value).toExponential().split('e');
    let exponent = Number(power);
    const plain = exponent >= -6 && exponent < 15;
    const keep = Math.max(significant, plain ? exponent + 1 : 1);
    const all = mantissa.replace('.', '');
    const digits = Array.from(all.slice(0, keep), Number);
    if (all.length > keep && all[keep] >= '5') {
      let i = digits.length - 1;
      while (i >= 0 && digits[i] === 9) { digits[i] = 0; i -= 1; }
      if (i >= 0) digits[i] += 1; else { digits.unshift(1); exponent += 1; }
    }
    const text = digits.join('').replace(/0+$/, '');
    const shift = plain ? exponent : 0;
    const padded = '0'.repeat(Math.max(0, -shift)) + text;
    const before = Math.max(shift, 0) + 1;
    const whole = padded.slice(0, before).padEnd(text === '' ? 1 : before, '0');
    const part = padded.slice(before);
    return (value < 0 ? '−' : '')
      + (whole.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, '\u202F'))
      + (part === '' ? '' : mark + part)
      + (plain ? '' : ` × 10^${String(exponent).replace('-', '−')}`);
  }

  function withUnit(number, unit) {
    if (unit.name === '') return number;
    if (unit.name === '°') return `${number}°`;
    return `${number} ${number === '1' ? unit.one : unit.name}`;
  }

  const cleaned = (typed) => typed
    .replace(/[\uFEFF\u061C\u200B-\u200F\u202A-\u202E\u2060\u2066-\u2069]/g, '')
    .replace(/[\t-\r \x85\xA0\u1680\u2000-\u200A\u2028\u2029\u202F\u205F\u3000]+/g, ' ')
    .replace(/[−–‐‑]/g, '-').replace(/[⁄∕]/g, '/').replace(/∶/g, ':')
    .replace(/^ | $/g, '');

  const trimmed = (text) => text.replace(/^ +| +$/g, '');
  // A group of thousands does not start with 0.
  const grouped = (written, by) => {
    const [first, ...rest] = written.split(by);
    return /^[1-9]\d{0,2}$/.test(first) && rest.every((group) => group.length === 3);
  };

  // Digits and marks as plain decimal notation with a point.
  function plainNumber(run) {
    const written = run.replace(/[.,]$/, '');
    const at = Math.max(written.lastIndexOf('.'), written.lastIndexOf(','));
    if (at < 0) return written;
    const [head, tail, last] = [written.slice(0, at), written.slice(at + 1), written[at]];
    const other = last === '.' ? ',' : '.';
    let decimal = true;
    if (head.includes(other)) {
      if (head.includes(last) || !grouped(head, other)) throw unreadable(WHY.groups);
    } else if (head.includes(last)) {
      if (!grouped(written, last)) throw unreadable(WHY.groups);
      decimal = false;
    } else {
      decimal = last === mark || tail.length !== 3 || !grouped(written, last);
    }
    return head.replace(/[.,]/g, '') + (decimal ? `.${tail}` : tail);
  }

  // `e-1`, `×10^-1`, ` * 10⁻¹` at the front.
  function exponentAt(text) {
    const found = /^[eE]([+-]?\d+)/.exec(text) || /^ ?[×xX*·] ?10 ?\^ ?([+-]?\d+)/.exec(text);
    if (found) return { power: found[1], rest: text.slice(found[0].length) };
    const high = /^ ?[×xX*·] ?10([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)(?![⁺⁻])/.exec(text);
    if (!high) return null;
    const power = Array.from(high[1], (c) => '+-0123456789'[SUPERSCRIPTS.indexOf(c)]).join('');
    return { power, rest: text.slice(high[0].length) };
  }

  function divided(above, below) {
    if (!(below > 0)) throw unreadable(WHY['zero-below']);
    return above / below;
  }

  // The number at the front, not negative, and what follows it.
  function number(text) {
    if (text[0] in VULGAR) return { value: divided(...VULGAR[text[0]]), rest: text.slice(1) };
    const spaced = /^\d{1,3}(?: \d{3}(?![\d/]))+(?:[.,]\d+)?/.exec(text);
    const written = spaced ? spaced[0] : /^[\d.,]*/.exec(text)[0];
    const decimal = spaced ? written.replace(/ /g, '').replace(',', '.') : plainNumber(written);
    if (!/\d/.test(decimal)) throw unreadable(WHY['no-number']);
    const rest = text.slice(written.length);
    const power = exponentAt(rest);
    if (power) return { value: Number(`${decimal}e${power.power}`), rest: power.rest };
    const whole = Number(decimal);
    if (decimal.includes('.')) return { value: whole, rest };
    const below = /^\/(\d+)/.exec(rest);
    if (below && decimal === written) {
      return { value: divided(whole, Number(below[1])), rest: rest.slice(below[0].length) };
    }
    const part = /^[ -]?([½¼¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚])/.exec(rest) || /^[ -](\d+)\/(\d+)/.exec(rest);
    if (!part) return { value: whole, rest };
    const value = part[2] ? divided(Number(part[1]), Number(part[2])) : divided(...VULGAR[part[1]]);
    if (!(value < 1)) throw unreadable(WHY['whole-fraction']);
    return { value: whole + value, rest: rest.slice(part[0].length) };
  }

  const wordlike = (text) => /[A-Za-z]|[^\x00-\x7F]/.test(text);

  const wrongKind = (unit, asked) => new Refusal({
    outcome: 'wrong-kind', unit: unit.name, is: unit.kind, wanted: asked.kind,
  });

  // The echo is closed with the asked value if it was typed in another form.
  function answer(value, echo, asked, converted) {
    if (!Number.isFinite(value)) throw unreadable(WHY['too-large']);
    const close = () => withUnit(shown(value, Math.abs(value) < 1 ? 3 : 4), asked);
    return { outcome: 'value', value, echo: converted ? thatIs.replace('{echo}', () => echo).replace('{value}', close) : echo };
  }

  function ratio(above, text, asked, sign) {
    const below = number(text);
    if (trimmed(below.rest) !== '') throw unreadable(WHY['ratio-rest']);
    if (!(below.value > 0)) throw unreadable(WHY['zero-ratio']);
    if (below.value === Infinity) throw unreadable(WHY['too-large']);
    const value = convert(above / below.value * sign + 0, units[0], asked);
    if (value === null) throw wrongKind(units[0], asked);
    const echo = `${shown(above * sign + 0, TYPED_DIGITS)}:${shown(below.value, TYPED_DIGITS)}`;
    return answer(value, echo, asked, true);
  }

  // Numbers each with its unit: `5' 3"`, `1 h 20 min`.
  function parts(first, asked, wholeName) {
    const found = [];
    for (let next = first; ;) {
      const rest = trimmed(next.rest);
      const end = rest.search(/[.,]?\d|[½¼¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚]|$/);
      const name = trimmed(rest.slice(0, end));
      if (name === '') throw unreadable(rest === '' ? WHY['no-last-unit'] : WHY['not-a-unit']);
      const unit = unitFor(name, asked);
      if (!unit && wordlike(name) && wordlike(wholeName)) {
        throw new Refusal({ outcome: 'unknown-unit', unit: wholeName, near: near(wholeName) });
      }
      if (!unit) throw unreadable(WHY['not-a-unit']);
      const last = found[found.length - 1];
      const fits = !last || (last.unit.dimension === unit.dimension && last.unit.factor > unit.factor);
      if (unit.offset > 0 || !fits) throw unreadable(WHY.parts);
      found.push({ size: next.value, unit });
      if (end === rest.length) return found;
      next = number(rest.slice(end));
    }
  }

  function total(found, asked, sign) {
    let sum = 0;
    const echo = [];
    for (const { size, unit } of found) {
      const value = convert(size * sign + 0, unit, asked);
      if (value === null) throw wrongKind(unit, asked);
      sum += value;
      echo.push(withUnit(shown(echo.length ? size : size * sign + 0, TYPED_DIGITS), unit));
    }
    return answer(sum, echo.join(' '), asked, found.length > 1 || found[0].unit.name !== asked.name);
  }

  function reading(typed, asked) {
    if (Array.from(typed).length > MOST_CHARACTERS) throw unreadable(WHY['too-long']);
    const text = cleaned(typed);
    if (text === '') return { outcome: 'blank' };
    const sign = text[0] === '-' ? -1 : 1;
    const first = number(text.replace(/^[+-]? ?/, ''));
    const rest = trimmed(first.rest);
    if (rest === '') {
      const value = first.value * sign + 0;
      return answer(value, Number.isFinite(value) ? withUnit(shown(value, TYPED_DIGITS), asked) : '', asked, false);
    }
    if (rest[0] === ':') return ratio(first.value, trimmed(rest.slice(1)), asked, sign);
    const name = rest.replace(/^-(?=[A-Za-z])/, ''); // 5-inch
    const unit = unitFor(name, asked);
    return total(unit ? [{ size: first.value, unit }] : parts(first, asked, name), asked, sign);
  }

  function read(typed, askedName) {
    const asked = units.find((unit) => unit.name === askedName);
    const blank = { value: null, echo: null, why: null, unit: null, is: null, wanted: null, near: null };
    try {
      return Object.assign(blank, reading(typed, asked));
    } catch (refusal) {
      if (!(refusal instanceof Refusal)) throw refusal;
      return Object.assign(blank, refusal.fields);
    }
  }

  return { load, read };
})();
