/* An answer as people read it. */
const Told = (() => {
  const { fixed, general, percent } = Numbers;
  const WORDS = { pass: "PASS", fail: "FAIL", unknown: "UNKNOWN", none: "NO ANSWER YET" };
  const MEANS = { pass: "It fits.", fail: "It doesn't fit.", unknown: "It can't be said.", none: "" };
  const OF = { area: "of the inside", width: "of the width", term: "of the conduit's term" };

  const element = (name, attributes = {}, ...children) => {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    made.append(...children.filter((child) => child !== null));
    return made;
  };
  const drawn = (name, attributes, ...children) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    made.append(...children);
    return made;
  };
  const sign = (word) => drawn("svg", { class: "sign", "aria-hidden": "true", viewBox: "0 0 24 24" }, drawn("use", { href: `#sign-${word}` }));

  /* A fill and its limit; never so rounded that one reads as on the other side of the other. */
  const figures = ({ value, limit, measure }) => {
    const over = value !== null && limit !== null && Fill.isOver(value, limit);
    if (measure === "term") {
      let decimals = 3;
      while (value !== null && limit !== null && decimals < 12 && Number(fixed(value, decimals)) > limit !== over) decimals += 1;
      return { fill: value === null ? "" : fixed(value, decimals), limit: limit === null ? "" : general(limit) };
    }
    return {
      fill: value === null ? "" : `${percent(value, limit, over)} %`, limit: limit === null ? "" : `${general(100 * limit)} %`,
    };
  };

  const bar = (verdict, told) => {
    const { value, limit } = verdict;
    if (value === null || !Number.isFinite(value)) return null;
    const whole = Math.max(1, value), part = (share) => String(Math.min(100, (100 * share) / whole));
    const over = limit !== null && value > limit;
    const label = `${told.fill} used${limit === null ? "" : `, limit ${told.limit}`}`;
    const parts = [
      drawn("rect", { class: "frame", x: "0", y: "1", width: "100", height: "10" }),
      drawn("rect", { class: "used", x: "0", y: "1", width: part(over ? limit : value), height: "10" }),
    ];
    if (over) parts.push(drawn("rect", { class: "over", x: part(limit), y: "1", width: String(part(value) - part(limit)), height: "10" }));
    if (limit !== null) parts.push(drawn("line", { class: "limit", x1: part(limit), x2: part(limit), y1: "0", y2: "12" }));
    return drawn("svg", { class: "bar", viewBox: "0 0 100 12", preserveAspectRatio: "none", role: "img", "aria-label": label }, ...parts);
  };

  const verdictBox = (word, means, reason, code) => [
    sign(word), element("p", {}, element("strong", {}, WORDS[word]), means && ` ${means}`),
    element("p", { class: "reason" }, reason, ...(code ? [", by ", element("span", { class: "key" }, code)] : [])),
  ];

  const list = (title, lines, name = "ul") => (lines.length
    ? [element("h3", {}, title), element(name, {}, ...lines.map((line) => element("li", {}, line)))] : []);

  const facts = (pairs) => element("dl", {}, ...pairs.filter(([, text]) => text)
    .flatMap(([name, text]) => [element("dt", {}, name), element("dd", {}, text)]));

  const leftOf = (left) => left.map(({ cable, count }) => {
    if (count === null) return `${cable}: how many more can't be said`;
    return count === 0 ? `${cable}: none` : `${cable}: ${count} more`;
  });

  /* What was asked, in the words of the command. */
  const command = (asked) => {
    const options = [
      ["code", asked.code], ["carrier", asked.carrier], ["inside", asked.inside], ["kind", asked.kind === "trunking" ? "" : asked.kind],
      ["bore", asked.bore], ...asked.cables.map((cable) => ["cable", cable]), ["most", asked.most], ["length", asked.length_m],
      ["bends", asked.bends], ["occupied", asked.occupied], ["space-factor", asked.space_factor],
    ];
    const said = options.filter(([, value]) => value !== undefined && value !== null && value !== "");
    return ["wayroom fit", ...said.map(([name, value]) => `--${name} ${value}`)].join(" ");
  };

  /* What a cable is, in a few words. */
  const cableNote = (cable) => {
    const size = cable.diameter !== null ? `Ø ${general(cable.diameter)} mm`
      : cable.width !== null ? `${general(cable.width)} × ${general(cable.height)} mm` : `${general(cable.area)} mm²`;
    return `${cable.family}, ${size}${cable.planning ? ", to plan with" : ""}`;
  };

  /* The clause; the command's words for a limit of one's own are for those who have the command. */
  const clauseOf = ({ source }) => source.replace("the project's own limit", "your own limit").replace(" (asked for by --space-factor)", "");

  /* Everything below the verdict. more: the answer to how many more go in of one, where that was asked besides. */
  const worked = (found, asked, more) => {
    const { verdict } = found, told = figures(verdict), mm2 = (area) => (area === null ? "not known" : `${fixed(area, 1)} mm²`);
    const clause = clauseOf(verdict);
    const least = verdict.atLeast ? "at least " : "";
    const sources = [[found.carrier, found.sizeSource], ...found.cables.filter((it) => it.source).map((it) => [it.key, it.source])];
    const planning = [...new Set(found.cables.filter((it) => it.planning).map((it) => it.key))];
    const cautions = [
      ...(planning.length ? [`Sizes to plan with, no standard fixes them, so take the maker's: ${planning.join(", ")}.`] : []),
      ...(found.wantsRun && verdict.outcome === "unknown" ? ["What goes into a conduit depends on its run: give its length and bends."] : []),
      `Covers ${clause ? `fill by ${clause}` : "fill"}. Not current rating, segregation or drawing-in.`,
      Data.caution,
    ];
    const mostSaid = more && asked.most ? [mostLine(asked.most, more)] : [];
    return [
      bar(verdict, told),
      facts([
        ["Fill", told.fill && `${least}${told.fill} ${OF[verdict.measure] || ""}`],
        ["Limit", told.limit ? `${told.limit} (${verdict.basis === "project" ? "your own" : verdict.basis})` : clause ? "not to be said" : "none"],
        ["Clause", clause],
        ["Carrier", found.carrier], ["Taken", mm2(found.occupied)], ["Inside", mm2(found.internal)],
      ]),
      ...list("Room left by the code, for one kind at a time", [...leftOf(found.left), ...mostSaid]),
      ...list("How it is worked out", verdict.working, "ol"),
      ...list("Cautions", cautions),
      ...list("Where the sizes come from", [...new Set(sources.map(([name, source]) => `${name}: ${source}`))]),
      element("p", { class: "muted" }, "The same with the command: ", element("code", {}, command(asked))),
    ].filter(Boolean);
  };

  const mostLine = (cable, { most, verdict }) => {
    if (most === null) return `${cable}: how many go in besides can't be said: ${verdict.reason}`;
    return most === 0 ? `${cable}: not even one goes in besides: ${verdict.reason}` : `${cable}: ${most} go in besides`;
  };

  return { MEANS, WORDS, cableNote, element, figures, verdictBox, worked };
})();
