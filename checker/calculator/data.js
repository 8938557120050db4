/* What the page knows, as objects. All figures come from the codes; this file and those after it have none. */
const Data = (() => {
  const raw = JSON.parse(document.getElementById("data").textContent);

  const tables = {};
  for (const [name, { columns, rows }] of Object.entries(raw.tables)) {
    tables[name] = rows.map((row) => Object.fromEntries(row.map((text, place) => [columns[place], text])));
  }

  const codes = raw.codes.map((code) => ({
    ...code,
    rules: code.rules.map((rule) => {
      const limits = Object.entries(rule.limits).map(([name, it]) => [name, it && it.table ? tables[it.table] : it]);
      return { ...rule, limits: Object.fromEntries(limits) };
    }),
  }));

  const readingOf = ([area, areaLeast, width, widthLeast, bore, side, sideLeast, sizeDoubt]) =>
    ({ area, areaLeast, width, widthLeast, bore, side, sideLeast, sizeDoubt: raw.texts[sizeDoubt] });

  const carriers = new Map(raw.carriers.map(([key, kind, name, source, perforated, outsideWidth, outsideDiameter, insides]) => {
    const insideBy = codes.map((_, place) => readingOf(insides[insides.length > 1 ? place : 0]));
    return [key, { key, kind, name, source: raw.texts[source], perforated, outsideWidth, outsideDiameter, insideBy }];
  }));

  const cables = new Map(raw.cables.map(
    ([key, family, source, area, diameter, width, height, csa, conductor, hasAwg, cores, stranded, planning]) => [key, {
      circuit: key, key, family: raw.texts[family], source: raw.texts[source], area, diameter, width, height, csa, conductor, hasAwg,
      cores, stranded, planning, isSeveral: false,
    }]));

  /* A carrier by its key, in whatever letters it was typed; undefined: there is none. */
  const carrierNamed = (text) => carriers.get(text.trim()) || carriers.get(text.trim().toLowerCase());

  const { caution, figures, known } = raw;
  return { codes, carriers, cables, carrierNamed, figures, known, caution };
})();
