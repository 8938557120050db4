/* Cables in trays by size and layer: what rules/fill/layer, tray_checks, tray_limits and tray_rows ask. */
const Trays = (() => {
  const { apart, fixed, general, cell } = Numbers;
  const { blank, circle, nameOf, onceInOrder, sum, thickness, unsized } = Fill;
  const { tray_checks: check, tray_limits: widths, tray_rows: sizes, asked: { MM_PER_INCH } } = Data.figures;

  /* ---- the cables, by what the clause says of them; null is unknown ---- */

  const isAtLeast = (row, least) => (row.size || 0) >= least * (1 - sizes.SIZE_EXACTLY);

  const rowOf = (cable) => {
    const area = cable.width !== null ? circle(cable.width) : cable.area || 0, across = thickness(cable), size = cable.conductor;
    return {
      name: nameOf(cable), number: cable.count, area: cable.count * area, size,
      across: cable.count * (across !== null ? across : 2 * (area / circle(2)) ** 0.5),
      isAcrossKnown: across !== null || area === 0,
      isLarge: size === null ? null : size >= sizes.FROM_4_0 * (1 - sizes.SIZE_EXACTLY),
    };
  };

  /* No service is asked for here, so whether a cable is for power or for signals is never known. */
  const sorted = (subject, singleLeast) => {
    const multi = [], single = [], odd = [], barred = [], assumed = [];
    for (const cable of subject.cables.filter((it) => it.count)) {
      const row = rowOf(cable), given = row.size !== null || cable.hasAwg;
      if ((cable.cores || 0) > 1) multi.push(row);
      else if (cable.cores === null && given) {
        odd.push(`whether ${row.name} is a single conductor isn't known, as its number of cores isn't given`);
      } else if (cable.cores === null) {
        multi.push(row);
        assumed.push(row.name);
      } else if (row.size === null) odd.push(`the conductor size of ${row.name} isn't known`);
      else if (isAtLeast(row, singleLeast)) single.push(row);
      else if (isAtLeast(row, sizes.FROM_4_AWG)) {
        odd.push(`${row.name}, a single conductor of less than ${general(singleLeast)} mm², may only be for equipment grounding`);
      } else barred.push(row.name);
    }
    const all = sum(subject.cables, (cable) => cable.count || 0), other = subject.isStrict ? subject.fewest : subject.most;
    const isOpen = ![null, all].includes(other) || subject.cables.some((cable) => !cable.count) || odd.length > 0;
    return { multi, single, odd: onceInOrder(odd), barred: onceInOrder(barred), assumed: onceInOrder(assumed), isOpen };
  };

  /* ---- inequalities; a branch is a list of them that must all hold ---- */

  const outcomeOf = ({ least, most, allowed }) => {
    if (allowed === null) return "unknown";
    const bound = allowed * (1 + check.EXACTLY);
    return least > bound ? "fail" : most <= bound ? "pass" : "unknown";
  };
  const usedOf = (it) => (outcomeOf(it) === "pass" ? it.most : it.least);
  const shareOf = (it) => (it.allowed ? usedOf(it) / it.allowed : Infinity);
  const branchOutcome = (branch) => ["fail", "unknown", "pass"].find((word) => branch.some((it) => outcomeOf(it) === word));
  const worstOf = (branch) => branch.reduce((worst, it) => (shareOf(it) > shareOf(worst) ? it : worst));
  const told = (it) => {
    const unit = it.isArea ? "mm²" : "mm", outcome = outcomeOf(it);
    if (it.allowed === null) return `${it.what}: the code's table has no such width`;
    if (outcome === "unknown") {
      const span = Number.isFinite(it.most) ? `${fixed(it.least, 1)} to ${fixed(it.most, 1)}` : `at least ${fixed(it.least, 1)}`;
      return `${it.what}: ${span} ${unit}, against ${fixed(it.allowed, 1)} ${unit}`;
    }
    const [used, allowed] = apart(usedOf(it), it.allowed, outcome === "fail");
    return `${it.what}: ${used} ${unit}, ${outcome === "fail" ? "over" : "within"} ${allowed} ${unit}`;
  };
  const toldOf = (branches) => onceInOrder(branches.flat().map(told)).join("; ");

  /* The area that a table allows; null beyond its ends. Between two widths the narrower counts. */
  const tableArea = (table, column, inside, outside) => {
    const areaOf = (row) => Number(row[column]) * MM_PER_INCH ** 2, near = widths.WIDTH_EXACTLY_MM;
    const byMetric = table.map((row) => [cell(row.width_mm), areaOf(row)]).sort((a, b) => a[0] - b[0]);
    const byInches = table.map((row) => [cell(row.width_in) * MM_PER_INCH, areaOf(row)]).sort((a, b) => a[0] - b[0]);
    if (outside !== null) {
      for (const steps of [byMetric, byInches]) {
        const nearest = steps.reduce((best, it) => (Math.abs(it[0] - outside) < Math.abs(best[0] - outside) ? it : best));
        if (Math.abs(nearest[0] - outside) <= near) return nearest[1];
      }
    }
    const reached = byMetric.filter((it) => it[0] <= inside + near), isPast = inside > byMetric.at(-1)[0] + near;
    if (!reached.length) return null;
    return !isPast || inside <= byInches.at(-1)[0] + near ? reached.at(-1)[1] : null;
  };

  /* One reading of a compartment: of its bottom, and of its width. */
  const reading = (subject, limits, isSolid, outside) => {
    const { width, area } = subject, bottom = isSolid ? " on a solid bottom" : "", column = isSolid ? "solid_in2" : "ventilated_in2";
    const across = (what, surely, perhaps, limit) => ({
      what: what + bottom, least: sum(surely, (row) => row.across),
      most: sum(perhaps, (row) => (row.isAcrossKnown ? row.across : Infinity)),
      allowed: limit.value * width, whole: width, isArea: false, limit,
    });
    // the part of the thick stands beside the thin, so that nothing allowed gets negative
    const byTable = (what, rows, table, beside, limit, isThick) => {
      let least = 0, most = 0;
      for (const row of rows) {
        const thick = beside.value * MM_PER_INCH * row.across, thickMost = row.isAcrossKnown ? thick : Infinity, isSo = isThick(row);
        least += isSo === null ? Math.min(row.area, thick) : isSo ? thick : row.area;
        most += isSo === null ? Math.max(row.area, thickMost) : isSo ? thickMost : row.area;
      }
      const found = tableArea(table, column, width, outside);
      return { what: what + bottom, least, most, allowed: found === null ? null : limit.value * found, whole: area, isArea: true, limit };
    };
    const control = (rows) => {
      const limit = isSolid ? limits.control_solid : limits.control_ventilated;
      const depth = Math.min(area / width, limits.control_depth_mm.value), used = sum(rows, (row) => row.area);
      const what = `control and signal cables only${bottom}`;
      return [{ what, least: used, most: used, allowed: limit.value * width * depth, whole: area, isArea: true, limit }];
    };
    const large = (rows) => [across("4/0 AWG and larger side by side", rows, rows, isSolid ? limits.large_solid : limits.large_ventilated)];
    const mixed = (rows) => {
      const [beside, limit] = isSolid ? [limits.beside_solid, limits.small_solid] : [limits.beside_ventilated, limits.small_ventilated];
      const perhaps = rows.filter((row) => row.isLarge !== false), surely = rows.filter((row) => row.isLarge);
      const what = perhaps.length ? `smaller than 4/0 AWG, with ${general(beside.value)} in² an inch of larger` : "smaller than 4/0 AWG";
      const table = byTable(what, rows, limits.multiconductor, beside, limit, (row) => row.isLarge);
      return perhaps.length ? [table, across("4/0 AWG and larger in one layer", surely, perhaps, limits.one_layer)] : [table];
    };
    const singleArea = (rows) => {
      const isThick = (row) => isAtLeast(row, sizes.FROM_1000);
      const beside = rows.some(isThick) ? `, with ${general(limits.single_beside.value)} in² an inch of larger` : "";
      const what = `single conductors of 250 to 900 kcmil${beside}`;
      return [byTable(what, rows, limits.single, limits.single_beside, limits.single_area, isThick)];
    };

    const ofMulti = (rows, { wider, fewer }) => {
      const larges = rows.filter((row) => row.isLarge !== false), found = [control(rows)];
      if (larges.length && (fewer || larges.length === rows.length)) found.push(large(larges));
      if (rows.length === 1 && rows[0].isAcrossKnown && !(wider || fewer || rows[0].isLarge)) {
        found.push(mixed([{ ...rows[0], isLarge: false }])); // cables of one row are of one size
      } else if (wider || !rows.every((row) => row.isLarge)) found.push(mixed(rows));
      return found;
    };
    const ofSingle = (rows, { wider, fewer }) => {
      const bulk = rows.filter((row) => isAtLeast(row, sizes.FROM_250)), hasThin = bulk.length < rows.length;
      const isAllThick = rows.every((row) => isAtLeast(row, sizes.FROM_1000));
      const isByWidth = hasThin || isAllThick || wider || fewer;
      const found = isByWidth ? [[across("single conductors side by side", rows, rows, limits.single_width)]] : [];
      if ((!hasThin && (wider || !isAllThick)) || (fewer && bulk.length)) found.push(singleArea(bulk));
      return found;
    };
    return { outside, asked: (rows, isSingle, how = {}) => (isSingle ? ofSingle : ofMulti)(rows, how) };
  };

  const readingsOf = (subject, limits) => {
    const { width, perforated } = subject;
    let outside = subject.outsideWidth;
    if (outside !== null && outside - width > check.SIDES_MM) outside = null;
    const bottoms = subject.kind === "ladder" ? [false] : perforated === null ? [false, true] : [!perforated];
    const differs = [limits.multiconductor, limits.single].some((table) =>
      tableArea(table, "ventilated_in2", width, outside) !== tableArea(table, "ventilated_in2", width, null));
    return bottoms.flatMap((isSolid) => (differs ? [outside, null] : [outside]).map((by) => reading(subject, limits, isSolid, by)));
  };

  const isUndeclared = (subject) => subject.kind === "tray" && subject.perforated === null;

  const notesOf = (subject, found, rows) => {
    const unsizedRows = onceInOrder(rows.filter((row) => row.isLarge === null).map((row) => row.name)), notes = [];
    if (unsizedRows.length) notes.push(`no conductor size is known of ${unsizedRows.join(", ")}`);
    if (rows === found.multi) {
      notes.push(`whether for power or signals isn't known of ${onceInOrder(rows.map((row) => row.name)).join(", ")}`);
    }
    if (isUndeclared(subject)) notes.push("whether its bottom is solid isn't declared");
    if (found.assumed.length && rows === found.multi) {
      notes.push(`${found.assumed.join(", ")} taken for multiconductor cable, as no number of cores is given`);
    }
    if (subject.cables.length) notes.push(`if of no more than ${general(sizes.HIGHEST_V)} V, as no voltage is given`);
    return notes;
  };

  const workingOf = (rows, it) => {
    const unit = it.isArea ? "mm²" : "mm", used = usedOf(it);
    return [
      ...rows.map((row) => `${row.name}: ${row.number} take ${fixed(row.area, 1)} mm², ${fixed(row.across, 1)} mm side by side`),
      told(it),
      `inside ${fixed(it.whole, 1)} ${unit}, of which ${fixed(it.allowed || 0, 1)} ${unit} is allowed`,
      `fill ${fixed(used, 1)} / ${fixed(it.whole, 1)} = ${fixed(used / it.whole, 4)}`,
    ];
  };

  /* The answer for cables of one sort, on which all limits that may apply agree. */
  const answerOf = (subject, limits, found, unknown, rows) => {
    const isSingle = rows === found.single;
    if (isSingle && subject.kind === "tray" && !subject.perforated) {
      const known = subject.perforated === null ? "isn't declared to be" : "isn't";
      const why = `392.22(B) speaks of single conductors on ladders and in ventilated trays, and this one ${known} ventilated`;
      return { ...unknown, reason: why };
    }
    const readings = readingsOf(subject, limits), fewer = found.isOpen && subject.isStrict, branches = [];
    const isSame = (a, b) => a.length === b.length && a.every((it, place) => Object.keys(it).every((key) => it[key] === b[place][key]));
    for (const branch of readings.flatMap((it) => it.asked(rows, isSingle, { fewer }))) {
      if (!branches.some((it) => isSame(it, branch))) branches.push(branch);
    }
    const outcomes = onceInOrder(branches.map(branchOutcome)), notes = notesOf(subject, found, rows);
    if (branches.length > 1 && new Set(readings.map((it) => it.outside)).size > 1) {
      notes.push("it is called by another width of the table than its inside has");
    }
    const [outcome] = outcomes, isOne = outcomes.length === 1;
    if (isOne && outcome === "fail" && found.isOpen && !fewer) {
      const wider = readings.flatMap((it) => it.asked(rows, isSingle, { wider: true }));
      if (wider.some((branch) => branchOutcome(branch) !== "fail")) {
        const why = `${toldOf(branches)}; but what else may lie in it would bring another limit: ${toldOf(wider)}`;
        return { ...unknown, reason: [...notes, why].join("; ") };
      }
    }
    if (!isOne || outcome === "unknown") return { ...unknown, reason: [...notes, toldOf(branches)].join("; ") };
    const isPass = outcome === "pass", checks = branches.map(worstOf);
    const it = checks.reduce((best, next) => ((isPass ? shareOf(next) > shareOf(best) : shareOf(next) < shareOf(best)) ? next : best));
    if (branches.length > 1) notes.push(`that is the ${isPass ? "tightest" : "loosest"} of the limits that may apply`);
    return {
      ...unknown, outcome, reason: [told(it), ...notes].join("; "), value: usedOf(it) / it.whole, limit: (it.allowed || 0) / it.whole,
      measure: it.isArea ? "area" : "width", basis: it.limit.basis, source: it.limit.cited,
      working: subject.withWorking ? workingOf(rows, it) : [],
    };
  };

  const layer = (subject, limits) => {
    const unknown = { ...blank(limits.small_ventilated), limit: null };
    if (!subject.area || !subject.width) return { ...unknown, reason: "no internal size is known" };
    const reason = unsized(subject);
    if (reason) return { ...unknown, reason };
    const least = limits.single_least_mm2, found = sorted(subject, least.value);
    if (found.barred.length) {
      const why = `${found.barred.join(", ")}: single conductors of less than ${general(least.value)} mm² may not lie in a tray`;
      return { ...unknown, outcome: "fail", basis: least.basis, source: least.cited, reason: why };
    }
    const answers = [found.multi, found.single].filter((rows) => rows.length)
      .map((rows) => answerOf(subject, limits, found, unknown, rows));
    const failed = answers.find((answer) => answer.outcome === "fail");
    if (failed) return failed;
    if (found.odd.length) return { ...unknown, reason: found.odd.join("; ") };
    if (answers.length > 1) {
      return { ...unknown, reason: "multiconductor cables and single conductors lie in it, and no rule for both together is judged" };
    }
    return answers[0] || { ...unknown, outcome: "pass", value: 0, reason: "nothing lies in it" };
  };

  return { rules: { "fill.layer": layer } };
})();
