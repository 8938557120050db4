/* Why cables can't go into a closed carrier, whatever a code says of it: what checker/fit/geometry and checker/section/proofs prove. */
const Proofs = (() => {
  const { fixed } = Numbers;
  const { isOpen, sum } = Fill;
  const { ALLOWED_MM, CLOSEST, MOST_PROVED, PROVED_WIDTHS } = Data.figures.proofs;
  const SLACK = 1e-9;

  const mm = (size) => `${fixed(size, 2)} mm`;

  /* Each kind of cable as thickness, length and number, thickest first and a little thinner; null: of some no size is known. */
  const bodiesOf = (cables) => {
    const found = [];
    for (const cable of cables.filter((it) => !it.isSeveral && it.count)) {
      const sides = cable.diameter ? [cable.diameter, cable.diameter] : [cable.width, cable.height];
      if (!sides[0] || !sides[1]) return null;
      found.push({ thick: Math.min(...sides) - ALLOWED_MM, long: Math.max(...sides) - ALLOWED_MM, number: cable.count });
    }
    return found.sort((a, b) => b.thick - a.thick || b.long - a.long);
  };

  const insideOf = ({ bore, width, area }) => {
    if (bore !== null) return bore > 0 ? { isRound: true, width: bore, height: bore } : null;
    return width && area ? { isRound: false, width, height: area / width } : null;
  };

  /* Points that keep a distance t from each other, and t / 2 from the wall, are at most square / t² + single / t + rest. */
  const boundsOf = ({ isRound, width, height }) => {
    if (!isRound) {
      const area = width * height;
      return {
        area, least: Math.min(width, height), square: CLOSEST * area, single: (width + height) * (1 - CLOSEST), rest: CLOSEST - 1,
      };
    }
    const radius = width / 2, disc = CLOSEST * Math.PI;
    return {
      area: Fill.circle(width), least: width, square: disc * radius ** 2, single: radius * (Math.PI - disc),
      rest: disc / 4 - Math.PI / 2 + 1,
    };
  };

  const noPair = ({ isRound, width, height }, first, second) => {
    const mean = (first + second) / 2;
    let most = 0;
    if (isRound) most = width - mean;
    else if (mean < Math.min(width, height) || first + second <= 0) most = Math.hypot(width - mean, height - mean);
    return most < mean ? `cables of ${mm(first)} and ${mm(second)} together are wider than the inside at its widest` : "";
  };

  /* Of each kind, thickest first, how many circles of its thickness lie side by side in one, and in all thicker ones. */
  const circlesIn = (bodies) => {
    const real = bodies.filter((body) => body.thick > 0);
    return real.map((one, place) => {
      const inOne = (body) => Math.max(1, 1 + Math.floor((body.long - body.thick) / one.thick - SLACK));
      return { thick: one.thick, number: one.number, own: inOne(one), before: sum(real.slice(0, place), (body) => body.number * inOne(body)) };
    });
  };

  /* Too many circles of one thickness, side by side in flat cables, for the room that so many have. */
  const tooMany = (bodies, { square, single, rest }) => {
    for (const { thick, number, own, before } of circlesIn(bodies)) {
      const most = square / (thick * thick) + single / thick + rest;
      const many = Math.max(1, Math.floor((most + SLACK - before) / own)); // about where it begins to be too many
      for (let count = Math.max(1, many - 1); count <= Math.min(number, many + 2); count += 1) {
        const wanted = before + count * own - SLACK;
        if (wanted > most) {
          return `${Math.ceil(wanted)} circles of ${mm(thick)} lie in the cables and `
            + `no more than ${Math.floor(most + SLACK)} of them have room, however they lie`;
        }
      }
    }
    return "";
  };

  /* Too many circles, each as thick as the thinnest of them or thicker, for the smallest circle that is proved to hold so many. */
  const tooManyInCircle = (bodies, width) => {
    for (const { thick, number, own, before } of circlesIn(bodies)) {
      for (let count = 1; count <= number; count += 1) {
        const many = before + count * own;
        if (many > PROVED_WIDTHS.length) return "";
        const need = PROVED_WIDTHS[many - 1] * thick;
        if (need > width) {
          return `${many} circles of ${mm(thick)} lie in the cables, and the smallest circle that holds so many is ${mm(need)} wide`;
        }
      }
    }
    return "";
  };

  /* Why they can't go in, by an area or a width alone; empty where nothing proves that. On trays they may stand above the sides. */
  const against = (subject) => {
    if (isOpen(subject) || subject.sizeDoubt) return "";
    const bodies = bodiesOf(subject.cables), inside = insideOf(subject);
    if (!inside || !bodies || !bodies.length || sum(bodies, (body) => body.number) > MOST_PROVED) return "";
    const bounds = boundsOf(inside), { width, height } = inside;
    const area = (more) => sum(bodies.filter((it) => it.thick + more > 0),
      (it) => it.number * (Fill.circle(it.thick + more) + (it.thick + more) * (it.long - it.thick)));
    if (area(0) > bounds.area) return `the cables' sections are ${fixed(area(ALLOWED_MM), 1)} mm² and the inside is ${fixed(bounds.area, 1)} mm²`;
    const [first] = bodies, second = first.number > 1 ? first : bodies[1];
    if (first.thick > bounds.least) return `a cable is ${mm(first.thick)} thick and the inside ${mm(bounds.least)} wide where that is least`;
    const flattest = bodies.reduce((best, it) => (it.long - it.thick > best.long - best.thick ? it : best));
    if (flattest.long > flattest.thick) {
      const most = inside.isRound ? width : flattest.thick + Math.hypot(width - flattest.thick, height - flattest.thick);
      if (most < flattest.long) return `a flat cable is ${mm(flattest.long)} wide and the inside has room for ${mm(most)}, turned as it may`;
    }
    return (second && noPair(inside, first.thick, second.thick)) || (inside.isRound && tooManyInCircle(bodies, width)) || tooMany(bodies, bounds);
  };

  return { against };
})();
