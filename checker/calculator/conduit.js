/* Drawing into conduit by terms: what rules/fill/conduit asks. */
const Conduit = (() => {
  const { cell, fixed, general } = Numbers;
  const { blank, byArea, isOver, marksOf, nameOf, thickness, unsized } = Fill;
  const run = Data.figures.conduit;

  const unknownTerm = (limits, reason) => ({ ...blank(limits.utilisation, "term"), reason });
  const isFor = (row, cable) => {
    const most = cell(row.diameter_most_mm);
    return most === null || cable.diameter === null || cable.diameter <= most;
  };

  /* One cable's term at least and at most; null: the table ends below it. */
  const term = (cable, table, short) => {
    if (cable.csa === null || cable.cores === null) return [0, null];
    const strands = cable.stranded === null ? null : cable.stranded ? "stranded" : "solid";
    const rows = table.filter((row) => row.straight_to_3_m === (short ? "yes" : "no"));
    const own = rows.filter((row) => Number(row.csa_mm2) === cable.csa && (row.strands === "" || row.strands === strands));
    if (own.length && isFor(own[0], cable)) return [Number(own[0].term), Number(own[0].term)];
    const smaller = own.length ? own
      : rows.filter((row) => Number(row.csa_mm2) < cable.csa && (row.strands === "" || row.strands === "solid"));
    const larger = rows.filter((row) => (row.strands === "" || row.strands === "stranded") && isFor(row, cable)
      && (Number(row.csa_mm2) > cable.csa || (Number(row.csa_mm2) === cable.csa && strands === "solid")));
    const termOf = (row) => Number(row.term);
    return [Math.max(0, ...smaller.map(termOf)), larger.length ? Math.min(...larger.map(termOf)) : null];
  };

  const termsOf = (cables, table, short) => {
    let low = 0, high = 0, isUnbounded = false;
    for (const cable of cables) {
      const [below, above] = term(cable, table, short);
      low += (cable.count || 0) * below;
      if (above === null) isUnbounded ||= cable.count !== 0;
      else high += (cable.count || 0) * above;
    }
    return [low, isUnbounded ? null : high];
  };

  const span = (low, high) => (low === high ? general(low) : `${general(low)} to ${general(high)}`);

  const withoutTerm = (subject) => {
    const open = marksOf(subject.cables.filter((cable) => cable.count && (cable.csa === null || cable.cores === null)));
    return open.length ? `terms go by conductor size and number of cores, which aren't known of ${open.join(", ")}`
      : "the code has no term for a cable so large";
  };

  /* A share of what is known alone is none, unless it is too much already. */
  const usedLine = (low, high, capacity, limit) => {
    const share = (used) => fixed(used / capacity, 4), over = ` / ${general(capacity)} = `;
    if (high === null) return isOver(low / capacity, limit) ? [`used at least ${general(low)}${over}${share(low)}`] : [];
    return [`used ${span(low, high)}${over}${low === high ? share(low) : `${share(low)} to ${share(high)}`}`];
  };

  const termWorking = (subject, limits, low, high, capacity, where) => {
    if (!subject.withWorking) return [];
    const short = where.startsWith("straight");
    return [
      ...subject.cables.map((cable) => {
        const [below, above] = term(cable, limits.cable_terms, short);
        return `${nameOf(cable)}: ${cable.count} × term ${above !== null ? span(below, above) : below ? `at least ${general(below)}` : "not known"}`;
      }),
      ...(high !== null || low ? [`together ${high === null ? `at least ${general(low)}` : span(low, high)}`] : []),
      `the conduit's term for a ${where}: ${general(capacity)}`,
      ...usedLine(low, high, capacity, limits.utilisation.value),
    ];
  };

  /* Holds what the cables need, somewhere from low to high, against the conduit's term. */
  const heldTerms = (subject, limits, [low, high], capacity, where) => {
    const value = low / capacity, limit = limits.utilisation.value, sizes = unsized(subject);
    const [least, untabled] = low === high ? ["", ""] : ["of at least ", "; not every cable's term is tabled"];
    let outcome = "unknown", reason;
    if (isOver(value, limit)) {
      outcome = "fail";
      reason = `cable terms ${least}${general(low)} over ${general(capacity)}, the conduit's for a ${where}${untabled}`;
    } else if (sizes || high === null) {
      reason = sizes || withoutTerm(subject);
    } else if (!isOver(high / capacity, limit)) {
      outcome = "pass";
      reason = `cable terms ${span(low, high)} within ${general(capacity)}, the conduit's for a ${where}`;
    } else {
      reason = `cable terms lie between ${general(low)} and ${general(high)}, as not every size is tabled; `
        + `the conduit's is ${general(capacity)} for a ${where}`;
    }
    return {
      ...blank(limits.utilisation, "term"), outcome, reason, value: outcome === "unknown" && high === null ? null : value,
      atLeast: low !== high, working: termWorking(subject, limits, low, high, capacity, where),
    };
  };

  const byTerms = (subject, limits, length, bends) => {
    const where = `run of ${fixed(length, 2)} m with ${bends} bend${bends === 1 ? "" : "s"}`, diameter = subject.outsideDiameter;
    const row = diameter ? limits.capacities.find((it) => Number(it.outside_diameter_mm) === diameter) : undefined;
    if (!row) {
      const why = diameter === null ? "no outside diameter is known" : `the code has no term for conduit of ${general(diameter)} mm`;
      return unknownTerm(limits, why);
    }
    const short = bends === 0 && length <= run.SHORT_RUN_M + run.LENGTH_EXACTLY_M, tabled = cell(row.straight_to_3_m);
    if (short && tabled !== null) {
      const [low, high] = termsOf(subject.cables, limits.cable_terms, true);
      if (low === high) return heldTerms(subject, limits, [low, high], tabled, `straight ${where}`);
    }
    const published = limits.lengths.filter((it) => Number(it.bends) === bends).map((it) => Number(it.length_m))
      .filter((it) => it >= length - run.LENGTH_EXACTLY_M);
    if (!published.length) return unknownTerm(limits, `${where}: the code's tables end before that`);
    const longest = Math.min(...published), whole = Number(row.k) / (Number(row.c) + longest * 2 ** bends);
    const capacity = Number(row.multiplier) * Math.floor(whole + 0.5);
    const told = short ? `${where}, judged as one of ${general(longest)} m` : where;
    const verdict = heldTerms(subject, limits, termsOf(subject.cables, limits.cable_terms, false), capacity, told);
    if (!short || verdict.outcome !== "fail") return verdict;
    return unknownTerm(limits, `${verdict.reason}; the tables for short straight runs lack a term, and the others are stricter`);
  };

  /* By terms, with as many bends as the run has; where that isn't known, with none to four. */
  const byRun = (subject, limits) => {
    const { length, bendsDeg } = subject.run;
    if (length === null) return unknownTerm(limits, "the length of the conduit's run isn't known");
    if (bendsDeg !== null) return byTerms(subject, limits, length, Math.max(Math.ceil((bendsDeg - run.BEND_EXACTLY_DEG) / 90), 0));
    const each = [0, 1, 2, 3, 4].map((bends) => byTerms(subject, limits, length, bends));
    if (each.every((verdict) => verdict.outcome === each[0].outcome)) return each[0];
    const answers = each.map((verdict, bends) => `${bends}: ${verdict.outcome}`).join(", ");
    return unknownTerm(limits, `how often the run bends isn't known; with so many bends it would be ${answers}`);
  };

  const use = (verdict) => (verdict.value === null || !verdict.limit ? 0 : verdict.value / verdict.limit);

  /* Cable terms against the conduit's; by area besides where a cable isn't single-core. */
  const conduit = (subject, limits) => {
    if (!subject.area) return unknownTerm(limits, "no internal size is known");
    if (!subject.cables.length) return { ...unknownTerm(limits, "nothing is drawn in"), outcome: "pass", value: 0 };
    const bore = subject.bore || 0;
    const thick = marksOf(subject.cables.filter((cable) => cable.count && (thickness(cable) || 0) >= bore));
    if (bore && thick.length) {
      const why = `a cable of ${thick.join(", ")} is as thick as the bore of ${fixed(bore, 1)} mm, or thicker`;
      return { ...unknownTerm(limits, why), outcome: "fail" };
    }
    // one whose cores aren't given is taken for single-core
    const single = subject.cables.filter((cable) => cable.cores === 1 || cable.cores === null);
    if (single.length === subject.cables.length) return byRun(subject, limits);
    const area = byArea(subject, limits.multicore_space_factor, "by area, as not all cables are single-core");
    if (!single.length || area.outcome === "fail") return area;
    const terms = byRun({ ...subject, cables: single }, limits);
    if (terms.outcome !== "pass") return terms;
    const isTighter = terms.atLeast || use(terms) > use(area);
    return area.outcome === "pass" && isTighter ? { ...terms, reason: `${terms.reason}; all together ${area.reason}` } : area;
  };

  return { rules: { "fill.conduit": conduit } };
})();
