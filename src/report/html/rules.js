// Which modules a choice keeps. The same rules as the tool's own (`verdict::select`, `graph::ModuleGraph`); the tests
// compare the two.

/** By standing; uncertain modules that weigh little are kept by all. */
const KEPT_BY = {
  lean: ['needed'],
  safe: ['needed', 'uncertain'],
  whole: ['needed', 'uncertain', 'tolerated', 'dormant'],
};

/** Some modules and all that they require, with java.base. */
function closure(roots) {
  const seen = new Set();
  const stack = [...roots, BASE].filter((name) => parts.has(name));
  while (stack.length > 0) {
    const name = stack.pop();
    if (seen.has(name)) continue;
    seen.add(name);
    for (const next of parts.get(name).requires) if (parts.has(next)) stack.push(next);
  }
  return seen;
}

/** The shortest chain of requirements from one of the roots to a module; the first in the order of names. */
function chain(roots, to) {
  const cameFrom = new Map([...roots].sort(byName).map((name) => [name, null]));
  const queue = [...cameFrom.keys()];
  for (let at = 0; at < queue.length; at += 1) {
    if (queue[at] === to) {
      const found = [];
      for (let name = to; name !== null; name = cameFrom.get(name)) found.unshift(name);
      return found;
    }
    for (const next of parts.get(queue[at]).requires) {
      if (!cameFrom.has(next) && parts.has(next)) {
        cameFrom.set(next, queue[at]);
        queue.push(next);
      }
    }
  }
  return null;
}

/** What a JVM resolves of the modules that it has where it starts from some of them (`graph::ModuleGraph::resolved`). */
function resolved(kept, from) {
  const seen = new Set();
  const stack = [...from, BASE];
  while (stack.length > 0) {
    const name = stack.pop();
    if (!kept.has(name) || seen.has(name)) continue;
    seen.add(name);
    stack.push(...parts.get(name).requires, ...parts.get(name).binds);
  }
  return seen;
}

const byName = (a, b) => (a < b ? -1 : Number(a > b));

/**
 * What a choice keeps. `on` and `off` are what `--with` and `--without` name.
 * A module of `off` that something kept requires stays all the same, and is a conflict: the tool refuses such a choice.
 */
function select({ policy, on, off }) {
  const wanted = new Set([BASE, ...on]);
  for (const part of answer.parts) {
    if (part.always || KEPT_BY[policy].includes(part.standing)) wanted.add(part.name);
  }
  const never = answer.not_linkable;
  const roots = [...wanted].filter(
    (name) => !off.has(name) && (!never || on.has(name) || !closure([name]).has(never)),
  );
  const kept = closure(roots);
  const conflicts = [...off].filter((name) => kept.has(name)).map((name) => [name, chain(roots, name)]);
  const list = [...kept].sort(byName);
  const found = resolved(kept, list.filter((name) => parts.get(name).starts));
  const late = [...new Set(roots)].sort(byName).filter((name) => !found.has(name) && parts.get(name).name_at_launch);
  return { roots: new Set(roots), kept, list, bytes: bytesOfImage(list), late, conflicts };
}

/** The modules that would go if one of the roots were none: all that only it keeps. */
function keptOnlyBy(roots, name) {
  const without = closure([...roots].filter((root) => root !== name));
  return without.has(name) ? [] : [...closure([name])].filter((other) => !without.has(other));
}

