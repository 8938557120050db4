/* Fill by area and by number: what rules/fill/area, compartment, count, formula and tray ask. */
const Fill = (() => {
  const { fixed, general, percent, withDigits } = Numbers;
  const { formula, count: number } = Data.figures;

  const sum = (items, of) => items.reduce((total, item) => total + of(item), 0);
  const circle = (diameter) => (Math.PI / 4) * diameter * diameter;
  const occupiedBy = (cable) => (cable.area === null || cable.count === null ? null : cable.count * cable.area);
  const thickness = (cable) => (cable.diameter !== null ? cable.diameter : cable.width);
  const nameOf = (cable) => cable.key || cable.circuit;
  const onceInOrder = (names) => [...new Set(names)];
  const marksOf = (cables) => onceInOrder(cables.map((cable) => cable.circuit)).sort();
  const isOver = (fill, limit) => fill > limit + formula.EXACTLY;

  /* Σ of the areas of the cables; null where one isn't known. */
  const occupied = (subject) => {
    const areas = subject.cables.map(occupiedBy);
    return areas.includes(null) ? null : sum(areas, (area) => area);
  };

  const blank = (limit, measure = "area") => ({
    outcome: "unknown", reason: "", value: null, limit: limit ? limit.value : null, measure, basis: limit ? limit.basis : "",
    source: limit ? limit.cited : "", atLeast: false, working: [],
  });

  const unsized = (subject) => {
    const marks = marksOf(subject.cables.filter((cable) => occupiedBy(cable) === null));
    return marks.length ? `the size or number of cables isn't known of ${marks.join(", ")}` : "";
  };

  const tooWide = ({ cables, bore, side, area }) => {
    if (bore !== null || !side || !area) return "";
    const marks = marksOf(cables.filter((cable) => {
      if (!cable.count || cable.height === null || cable.width === null) return false;
      const thin = Math.min(cable.height, cable.width), wide = Math.max(cable.height, cable.width);
      return wide > (thin + Math.hypot(side - thin, area / side - thin)) * (1 + formula.EXACTLY);
    }));
    return marks.length ? `a flat cable of ${marks.join(", ")} is wider than the inside, even on its diagonal` : "";
  };

  const tooThick = (subject) => {
    const side = subject.bore !== null ? subject.bore : subject.side;
    if (side === null) return "";
    const least = (cable) => (subject.bore === null && cable.height !== null && cable.width !== null
      ? Math.min(cable.height, cable.width) : thickness(cable) || 0);
    const marks = marksOf(subject.cables.filter((cable) => cable.count && least(cable) > side));
    return marks.length ? `a cable of ${marks.join(", ")} is thicker than the inside, ${fixed(side, 1)} mm` : tooWide(subject);
  };

  const twoTooWide = ({ cables, bore }) => {
    const sides = cables.flatMap((cable) => Array(Math.min(cable.count || 0, 2)).fill(Math.min(cable.height || Infinity, thickness(cable) || 0)));
    const [first, second] = sides.sort((a, b) => a - b).slice(-2);
    if (bore === null || sides.length < 2 || first + second <= bore * (1 + formula.EXACTLY)) return "";
    const [one, other, inside] = withDigits([first, second, bore], (told) => told[0] + told[1] > told[2]);
    return `two cables of ${one} and ${other} mm are wider together than the bore of ${inside} mm`;
  };

  const isOpen = (subject) => subject.kind === "tray" || subject.kind === "ladder";

  const cableLine = (cable) => {
    const all = fixed(occupiedBy(cable) || 0, 1);
    return cable.diameter !== null
      ? `${nameOf(cable)}: ${cable.count} × π/4 · ${general(cable.diameter)}² = ${all} mm²`
      : `${nameOf(cable)}: ${cable.count} × ${fixed(cable.area || 0, 1)} mm² = ${all} mm²`;
  };

  const areaWorking = (subject) => {
    if (!subject.withWorking) return [];
    const taken = occupied(subject) || 0, inside = fixed(subject.area || 0, 1);
    return [
      ...subject.cables.map(cableLine),
      `together ${fixed(taken, 1)} mm²`,
      subject.bore !== null ? `inside π/4 · ${general(subject.bore)}² = ${inside} mm²` : `inside ${inside} mm²`,
      `fill ${fixed(taken, 1)} / ${inside} = ${fixed(taken / (subject.area || 1), 4)}`,
    ];
  };

  /* Σ(π/4 · OD²) over the internal area, held against a space factor. */
  const byArea = (subject, limit, remark = "") => {
    const unknown = blank(limit);
    if (!subject.area) return { ...unknown, reason: "no internal size is known" };
    const reason = unsized(subject);
    if (reason) return { ...unknown, reason };
    const taken = occupied(subject), value = taken / subject.area, thick = tooThick(subject);
    if (thick && !isOpen(subject)) return { ...unknown, outcome: "fail", reason: thick, value };
    const over = isOver(value, limit.value);
    const told = `${fixed(taken, 1)} mm² of ${fixed(subject.area, 1)} mm² is ${percent(value, limit.value, over)} %, `
      + `${over ? "over" : "within"} ${general(100 * limit.value)} %${remark && `; ${remark}`}`;
    return { ...unknown, outcome: over ? "fail" : "pass", reason: told, value, working: areaWorking(subject) };
  };

  /* How full it is, where there is no limit to hold it against. */
  const withoutLimit = (subject, why) => {
    const reason = unsized(subject) || (subject.area ? "" : "no internal size is known");
    if (reason) return { ...blank(null), reason: `${reason}; ${why}` };
    const thick = isOpen(subject) ? "" : tooThick(subject);
    return {
      ...blank(null), value: occupied(subject) / subject.area, reason: thick ? `${thick}; ${why}` : why, working: areaWorking(subject),
    };
  };

  const factorOr = (why) => (subject, { space_factor: limit }) => (limit ? byArea(subject, limit) : withoutLimit(subject, why));

  /* ---- conduit by the number of conductors ---- */

  const countedArea = (cable) => (cable.width !== null ? circle(cable.width) : cable.area || 0);

  const limitOfNumber = (all, subject, limits) => {
    const fewest = subject.fewest === null ? all : subject.fewest, most = subject.most === null ? all : subject.most;
    const found = [];
    for (let n = fewest; n <= Math.min(most, fewest + 3); n += 1) found.push(n);
    const reachable = (found.length ? found : [all]).map((n) => (n === 1 ? limits.one : n === 2 ? limits.two : limits.more));
    return reachable.reduce((best, it) => ((subject.isStrict ? it.value < best.value : it.value > best.value) ? it : best));
  };

  const roundedCount = (counted, from) => {
    const whole = Math.floor(counted + formula.EXACTLY);
    return counted - whole >= from - formula.EXACTLY ? whole + 1 : whole;
  };

  const heldNumber = (subject, all, limit, limits) => {
    const inside = subject.area || 0, here = subject.cables.filter((cable) => cable.count), areas = here.map(countedArea);
    const taken = sum(subject.cables, (cable) => (cable.count || 0) * countedArea(cable)), value = taken / inside;
    const over = isOver(value, limit.value), share = general(100 * limit.value);
    const working = !subject.withWorking ? [] : [
      ...subject.cables.map((cable) => `${nameOf(cable)}: ${cable.count} × ${fixed(countedArea(cable), 2)} mm² = `
        + `${fixed((cable.count || 0) * countedArea(cable), 1)} mm²`),
      `together ${fixed(taken, 1)} mm², ${all} in number`,
      `inside ${fixed(inside, 1)} mm², of which ${share} % is ${fixed(limit.value * inside, 1)} mm²`,
      `fill ${fixed(taken, 1)} / ${fixed(inside, 1)} = ${fixed(taken / inside, 4)}`,
    ];
    const held = { ...blank(limit), value, working };
    const wide = twoTooWide(subject);
    if (wide) return { ...held, outcome: "fail", reason: wide };
    const told = `${all} take ${fixed(taken, 1)} mm² of ${fixed(inside, 1)} mm², ${percent(value, limit.value, over)} %`;
    if (!over) return { ...held, outcome: "pass", reason: `${told}, within ${share} %` };
    const largest = Math.max(...areas), isAlike = largest - Math.min(...areas) <= number.SAME_SIZE * largest;
    const isUncertain = ![null, all].includes(subject.fewest) || ![null, all].includes(subject.most);
    if (isAlike && !(subject.isStrict && isUncertain)) {
      const from = limits.round_up_from.value, allowed = roundedCount((limit.value * inside) / largest, from);
      if (all <= allowed) {
        const why = `${told}; ${allowed} of one size go in, as counts round up from ${general(from)}`;
        return { ...held, outcome: "pass", reason: why };
      }
    }
    return { ...held, outcome: "fail", reason: `${told}, over ${share} % for ${all}` };
  };

  const count = (subject, limits) => {
    const unknown = blank(null);
    unknown.basis = limits.more.basis;
    unknown.source = limits.more.cited;
    if (!subject.area) return { ...unknown, reason: "no internal size is known" };
    const reason = unsized(subject);
    if (reason) return { ...unknown, reason };
    const all = sum(subject.cables, (cable) => cable.count || 0);
    const usual = heldNumber(subject, all, limitOfNumber(all, subject, limits), limits), { length, isBetweenEnclosures } = subject.run;
    if (length === null || length > limits.short_run_to_m.value + number.LENGTH_EXACTLY_M) return usual;
    const short = heldNumber(subject, all, limits.short_run, limits);
    if (isBetweenEnclosures) return short;
    if (short.outcome === usual.outcome) return usual;
    const most = general(100 * limits.short_run.value);
    return { ...usual, outcome: "unknown", reason: `${usual.reason}; within ${most} % if its ends are at boxes or the like, which isn't known` };
  };

  const rules = {
    "fill.area": factorOr("the code sets no fill limit: give one of your own"),
    "fill.compartment": (subject, limits) => byArea(subject, limits.space_factor),
    "fill.count": count,
    "fill.tray": factorOr("the code sets no limit for trays and ladders: give one of your own"),
  };
  return { blank, byArea, circle, isOpen, isOver, marksOf, nameOf, occupied, onceInOrder, rules, sum, thickness, unsized };
})();
