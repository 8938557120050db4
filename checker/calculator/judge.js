/* Asks rules at both ends of what isn't certain: what checker/rule/judge.py does, of cables whose number and size are given. */
const Judge = (() => {
  const { blank, occupied, sum } = Fill;
  const { MANY } = Data.figures.asked;
  const RULES = { ...Fill.rules, ...Conduit.rules, ...Trays.rules };
  const SEVERITY = { pass: 0, unknown: 1, fail: 2 };

  const counted = (subject) => {
    const fewest = sum(subject.cables, (cable) => cable.count || 0);
    return { ...subject, fewest, most: subject.cables.some((cable) => cable.isSeveral) ? fewest + MANY : fewest };
  };

  const leastLoaded = (subject) => ({
    ...counted(subject), sizeDoubt: "", cables: subject.cables.map((cable) => ({ ...cable, area: cable.area || 0 })),
  });

  const mostLoaded = (subject) => {
    const area = subject.areaLeast !== null ? subject.areaLeast : subject.area, isLess = area !== null && subject.area && area < subject.area;
    return {
      ...counted(subject), area, isStrict: true,
      width: subject.widthLeast !== null ? subject.widthLeast : subject.width,
      bore: subject.bore !== null && isLess ? subject.bore * (area / subject.area) ** 0.5 : subject.bore,
      side: subject.sideLeast !== null ? subject.sideLeast : subject.side,
    };
  };

  const differs = (one, other) => JSON.stringify(one) !== JSON.stringify(other);
  const together = (reasons) => [...new Set(reasons.filter(Boolean))].join("; ");

  const judge = (rule, subject) => {
    const ask = (reading) => RULES[rule.id](reading, rule.limits);
    const lenient = ask(leastLoaded(subject)), isSized = occupied(subject) !== null;
    const isCertain = !subject.sizeDoubt && isSized && !subject.cables.some((cable) => cable.isSeveral);
    if (lenient.outcome === "unknown") {
      if (isSized && ask(mostLoaded(subject)).value === lenient.value) return lenient;
      return { ...lenient, value: null, reason: together([subject.sizeDoubt, lenient.reason]) };
    }
    if (isCertain) return lenient;
    if (lenient.outcome === "fail") return !isSized && lenient.value !== null ? { ...lenient, atLeast: true } : lenient;
    const strict = ask(mostLoaded(subject));
    const doubt = subject.sizeDoubt && differs(strict, lenient) ? subject.sizeDoubt : "";
    if (strict.outcome === "pass") return doubt ? { ...lenient, reason: `${lenient.reason}; holds even so: ${doubt}` } : lenient;
    return { ...lenient, outcome: "unknown", value: isSized ? lenient.value : null, reason: together([doubt, strict.reason]) };
  };

  const judged = (code, rules, subject) => {
    const answers = rules.map((rule) => [rule.id, judge(rule, subject)]);
    if (!answers.length) return ["", { ...blank(null, ""), reason: `${code.key} has no fill rule for ${subject.kind}` }];
    const worst = Math.max(...answers.map(([, verdict]) => SEVERITY[verdict.outcome]));
    return answers.find(([, verdict]) => SEVERITY[verdict.outcome] === worst);
  };

  return { judged };
})();
