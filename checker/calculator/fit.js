/* One carrier and a list of cables: what checker/fit does, of questions in the same words. */
const Fit = (() => {
  const { general, typed } = Numbers;
  const { circle, occupied } = Fill;
  const { judged } = Judge;
  const { LARGEST_MM, MOST_CABLES, ONE_BY_ONE } = Data.figures.asked;

  /* What is asked wrongly: where, what, and what to do. */
  class Wrong extends Error {
    constructor(where, what, hint) {
      super(`${where}: ${what}`);
      Object.assign(this, { where, what, hint });
    }
  }

  const millimetres = (where, text) => {
    const value = typed(text.trim().replace(/mm$/, ""));
    if (value === null || !(value > 0 && value <= LARGEST_MM)) {
      throw new Wrong(where, `“${text.trim()}” is no size in mm`, `write a number above 0, up to ${general(LARGEST_MM)}`);
    }
    return value;
  };

  const UNLISTED = {
    count: 1, area: null, diameter: null, width: null, height: null, csa: null, conductor: null, hasAwg: false, cores: null, stranded: null,
    planning: false, isSeveral: false,
  };

  /* A cable by its key, or by its outside: 11.3mm, flat 11.5x6.2mm. */
  const kindOf = (where, key) => {
    const size = key.match(/^([\d.]+)(?:\s*[x×]\s*([\d.]+))?\s*mm$/i);
    if (!size) {
      const found = Data.cables.get(key.toLowerCase());
      if (!found) throw new Wrong(where, `there is no cable “${key}” in this page`, "choose one of the list, or give its size in mm");
      return { ...found, count: 1 };
    }
    const one = { ...UNLISTED, circuit: key, key, source: "the size that was given" }, sides = size.slice(1, size[2] ? 3 : 2);
    const [tall, wide] = sides.map((side) => millimetres(where, side)).sort((a, b) => a - b);
    if (wide === undefined) return { ...one, diameter: tall, area: circle(tall) };
    return { ...one, width: wide, height: tall, area: circle(tall) + (wide - tall) * tall };
  };

  /* Cables as KEY=COUNT. */
  const cableOf = (text) => {
    const cut = text.lastIndexOf("="), number = text.slice(cut + 1).trim();
    if (cut < 0 || !/^\d{1,9}$/.test(number) || Number(number) < 1 || Number(number) > MOST_CABLES) {
      throw new Wrong("--cable", `“${number}” is no number of cables`, `write a whole number from 1 to ${MOST_CABLES}`);
    }
    return { ...kindOf("--cable", text.slice(0, cut).trim()), count: Number(number) };
  };

  /* A share as 40% or 0.40. */
  const shareOf = (where, text) => {
    const [, digits, sign] = String(text).trim().match(/^(\d+(?:\.\d+)?)\s*(%?)$/) || [];
    const share = sign ? Number(digits) / 100 : Number(digits);
    if (!digits || !(share <= 1) || (!sign && share === 1)) throw new Wrong(where, `“${text}” is no share`, "write per cent, as 40%");
    return share;
  };

  /* What is there already. By what cables isn't known. */
  const whatIsThere = (text, area) => {
    const share = shareOf("--occupied", text), name = "what is there";
    return { ...UNLISTED, circuit: name, key: name, area: area === null ? null : area * share, isSeveral: true, source: "" };
  };

  const UNKNOWN_INSIDE = {
    area: null, areaLeast: null, width: null, widthLeast: null, bore: null, side: null, sideLeast: null, sizeDoubt: "",
  };

  const carrierOf = (asked, place) => {
    if ([asked.carrier, asked.inside, asked.bore].filter(Boolean).length !== 1) {
      throw new Wrong("--carrier", "no carrier is named", "choose one of the list, or give its inside or bore");
    }
    if (asked.carrier) {
      const found = Data.carrierNamed(asked.carrier);
      if (!found) throw new Wrong("--carrier", `there is no carrier “${asked.carrier}” in this page`, "choose one of the list");
      const { insideBy, ...carrier } = found;
      return { ...carrier, ...insideBy[place] };
    }
    if (asked.bore) {
      const bore = millimetres("--bore", asked.bore), row = Data.codes[place].bores.find((it) => it[0] === bore);
      return {
        ...UNKNOWN_INSIDE, kind: "conduit", name: `conduit, bore ${general(bore)} mm`, source: "the bore that was given", perforated: null,
        outsideWidth: null, outsideDiameter: row ? row[1] : null, area: circle(bore), width: bore, bore, side: bore,
      };
    }
    const size = asked.inside.trim().match(/^(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)$/);
    if (!size) throw new Wrong("--inside", `“${asked.inside}” is no size`, "give width and height in mm");
    const width = millimetres("--inside", size[1]), height = millimetres("--inside", size[2]), kind = asked.kind || "trunking";
    return {
      ...UNKNOWN_INSIDE, kind, name: `${kind}, inside ${general(width)} × ${general(height)} mm`, source: "the inside that was given",
      perforated: null, outsideWidth: width, outsideDiameter: null, area: width * height, width, side: Math.min(width, height),
    };
  };

  const given = (value) => (value === undefined || value === null ? null : value);

  const subjectOf = (asked, carrier, cables) => {
    const length = given(asked.length_m), bends = given(asked.bends);
    for (const [where, value, most] of [["--length", length, 1000], ["--bends", bends, 100]]) {
      if (value === null) continue;
      if (carrier.kind !== "conduit") throw new Wrong(where, `it is for conduit, and this is ${carrier.kind}`, "leave it out");
      if (!(value >= 0 && value <= most) || (where === "--length" && value === 0)) {
        throw new Wrong(where, `${value} can't be`, `write a number from 0 to ${most}`);
      }
    }
    return {
      ...carrier, cables, withWorking: true, fewest: null, most: null, isStrict: false,
      run: { length, bendsDeg: bends === null ? null : bends * 90, isBetweenEnclosures: length === null ? null : true },
    };
  };

  /* The code's rules for a kind of carrier, with the space factor that is asked for. */
  const rulesOf = (code, kind, factor) => {
    const rules = code.rules.filter((rule) => rule.kinds.includes(kind));
    if (factor === null) return rules;
    if (!rules.some((rule) => "space_factor" in rule.limits)) {
      throw new Wrong("--space-factor", `${code.key} has no fill rule for ${kind} that goes by one`, "leave it out");
    }
    return rules.map((rule) => {
      if (!("space_factor" in rule.limits)) return rule;
      const before = rule.limits.space_factor;
      if (factor === 0) throw new Wrong("--space-factor", "0 % is no limit", "write a number above 0");
      if (before && factor > before.value) {
        const what = `it is looser than the ${general(100 * before.value)} % of ${code.key}`;
        throw new Wrong("--space-factor", what, "a limit of your own can only be stricter");
      }
      const cited = `the project's own limit${before ? `; the code has ${general(before.value)}: ${before.cited}` : ""}`
        + " (asked for by --space-factor)";
      return { ...rule, limits: { ...rule.limits, space_factor: { value: factor, basis: "project", cited } } };
    });
  };

  /* The largest count that passes and isn't proved not to go in; null: it can't be said. */
  const mostOf = (code, rules, subject, one) => {
    if (!subject.area || !one.area) return null;
    const room = Math.trunc((subject.area - (occupied(subject) || 0)) / one.area) + 1;
    if (room > MOST_CABLES) return null;
    const outcome = (count) => {
      const more = { ...subject, cables: [...subject.cables, { ...one, count }], withWorking: false };
      const word = judged(code, rules, more)[1].outcome;
      return word === "pass" && Proofs.against(more) ? "fail" : word;
    };
    let most = 0;
    for (let count = 1; count <= Math.min(ONE_BY_ONE, room); count += 1) {
      const word = outcome(count);
      if (word === "unknown" && count === 1) return null;
      if (word === "pass") most = count;
    }
    if (most < ONE_BY_ONE || room <= ONE_BY_ONE) return most;
    let beyond = room + 1;
    while (beyond - most > 1) {
      const middle = Math.floor((most + beyond) / 2);
      if (outcome(middle) === "pass") most = middle;
      else beyond = middle;
    }
    return most;
  };

  /* Answers a question: code, one of carrier, inside and bore, kind, cables, most, occupied, length_m, bends, space_factor. */
  const answer = (asked) => {
    const place = Data.codes.findIndex((code) => code.key === asked.code), code = Data.codes[place];
    if (!code) throw new Wrong("--code", `there is no code “${asked.code || ""}” in this page`, "choose one");
    const carrier = carrierOf(asked, place), rules = rulesOf(code, carrier.kind, asked.space_factor ? shareOf("--space-factor", asked.space_factor) : null);
    const listed = (asked.cables || []).map(cableOf);
    let subject = subjectOf(asked, carrier, listed);
    if (asked.occupied) subject = { ...subject, cables: [...subject.cables, whatIsThere(asked.occupied, subject.area)] };
    if (!listed.length && !asked.most) {
      throw new Wrong("--cable", "no cable is named", "add a cable, or ask how many of one go in");
    }
    let [rule, verdict] = judged(code, rules, subject), most = null;
    if (asked.most) {
      const one = kindOf("--most", asked.most.trim());
      most = mostOf(code, rules, subject, one);
      // where none goes in the answer is the one for one, which says why
      subject = { ...subject, cables: [...subject.cables, { ...one, count: most || 1 }] };
      [rule, verdict] = judged(code, rules, subject);
      if (most === null && verdict.outcome === "pass") {
        verdict = { ...verdict, outcome: "unknown", reason: `more than ${MOST_CABLES} aren't counted` };
      }
    }
    const proof = verdict.outcome === "pass" ? Proofs.against(subject) : "";
    if (proof) {
      const why = `by the figures of the code it passes (${verdict.reason}), but it can't go in: ${proof}`;
      verdict = { ...verdict, outcome: "fail", reason: why };
    }
    const kinds = verdict.outcome === "pass" ? [...new Map(listed.map((cable) => [cable.key, cable])).values()] : [];
    const left = kinds.map((cable) => ({ cable: cable.key, count: mostOf(code, rules, subject, cable) }));
    return {
      verdict, rule, most, left, carrier: carrier.name, kind: carrier.kind, internal: subject.area, occupied: occupied(subject),
      sizeSource: carrier.source, cables: subject.cables, bore: subject.bore,
      wantsRun: carrier.kind === "conduit" && (given(asked.length_m) === null || given(asked.bends) === null),
    };
  };

  /* The answers that the page brought along and that it doesn't repeat; none, if all is well. */
  const strangers = () => Data.known.filter((known) => {
    let found = { verdict: { outcome: null, value: null, limit: null }, most: null };
    try {
      found = answer(known.asked);
    } catch (error) {
      if (!(error instanceof Wrong)) throw error;
    }
    const isNear = (one, other) => one === other || (one !== null && other !== null && Math.abs(one - other) <= 1e-12 * Math.abs(other));
    return found.verdict.outcome !== known.outcome || found.most !== known.most
      || !isNear(found.verdict.value, known.fill) || !isNear(found.verdict.limit, known.limit);
  });

  return { Wrong, answer, cableOf, strangers };
})();
