// Compares what was read with the intervals that came with the page. Works nothing out.
const Marking = (() => {
  "use strict";

  const holds = (interval, value) => interval.lo <= value && value <= interval.hi;
  const plain = (verdict, because = [], says = "") => ({ verdict, because, says });
  const UNREAD = { "wrong-kind": "kind", "unknown-unit": "unknown" };

  function nearestTurn(turns, value) {
    let nearest = null;
    for (const turn of turns) {
      if (holds(turn, value) && (!nearest || Math.abs(turn.at - value) < Math.abs(nearest.at - value))) nearest = turn;
    }
    return nearest;
  }

  /** One reading against one part: {verdict, because, says}. */
  function numeric(reading, part) {
    if (reading.outcome !== "value") return plain(UNREAD[reading.outcome] || reading.outcome);
    const value = reading.value;
    if (holds({ lo: part.right[0], hi: part.right[1] }, value)) return plain("right");
    const turn = nearestTurn(part.turns || [], value);
    if (turn) return plain("turn", turn.because);
    const general = (part.general || []).filter((one) => holds(one, value));
    return general.length === 1 ? plain("general", [], general[0].says) : plain("wrong");
  }

  /** A given order of move numbers against the pairs of a pull. */
  function order(given, pull) {
    const place = (move) => (given.indexOf(move) === given.lastIndexOf(move) ? given.indexOf(move) : -1);
    const kept = (pair) => place(pair.first) >= 0 && place(pair.first) < place(pair.then);
    const broken = pull.pairs.flatMap((pair, index) => (kept(pair) ? [] : [index]));
    const hold = broken.some((index) => pull.pairs[index].safety);
    const all = pull.pairs.length;
    const share = all === 0 ? 1 : Math.max(0, (2 * (all - broken.length)) / all - 1);
    return { mark: hold ? 0 : share, kept: all - broken.length, pairs: all, broken, hold };
  }

  /** One pick. */
  const one = (options, picked) => (options[picked] && options[picked].right ? 1 : 0);

  /** Several ticks: right ticks less wrong ticks over the number right, at least 0. */
  function some(options, picked) {
    const right = options.filter((option) => option.right).length;
    const ticked = picked.filter((index) => options[index].right).length;
    return right === 0 ? 0 : Math.max(0, (2 * ticked - picked.length) / right);
  }

  /** Moves, by index, from the sample `start`: where they lead, and what that is worth. Samples have numbers from 1. */
  function rounds(given, start, table) {
    const path = [start];
    for (const move of given) path.push(table.leads[path.at(-1) - 1][move]);
    const right = table.right[path.at(-1) - 1];
    const hold = given.some((move) => table.unsafe[move]);
    const fewest = table.fewest[start - 1] || [];
    const tenths = Math.max(2, 10 - 2 * Math.max(0, given.length - fewest.length));
    return { mark: right && !hold ? tenths / 10 : 0, path, right, hold, fewest };
  }

  return { numeric, order, one, some, rounds };
})();
