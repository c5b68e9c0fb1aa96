import { isFunction, parse, walk } from './syntax.mjs';

/**
 * The regions of a file: stretches of code that run as a whole or not at all, in the order of the source. `{ start, end, enter,
 * leave }`; the texts are what is put before and after the region so that it notes its number when it runs.
 */
export function regionsOf(tree) {
  const regions = [];
  const expression = ({ start, end }) => regions.push({ start, end, enter: (n) => `(${note(n)}, `, leave: ')' });
  // Notes stand behind the brace that opens a block.
  const block = ({ start, end }) => regions.push({ start: start + 1, end, enter: (n) => `${note(n)};`, leave: '' });
  const statement = (node) => {
    if (node === null) return;
    if (node.type === 'BlockStatement') block(node);
    else regions.push({ start: node.start, end: node.end, enter: (n) => `{${note(n)};`, leave: '}' });
  };
  walk(tree, (node) => {
    if (isFunction(node)) {
      if (node.body?.type === 'BlockStatement') block(node.body);
      else if (node.body) expression(node.body);
    } else if (node.type === 'IfStatement') {
      statement(node.consequent);
      statement(node.alternate);
    } else if (/^(For|ForOf|ForIn|While)Statement$/.test(node.type)) statement(node.body);
    else if (node.type === 'ConditionalExpression') {
      expression(node.consequent);
      expression(node.alternate);
    } else if (node.type === 'LogicalExpression') expression(node.right);
    else if (node.type === 'SwitchCase' && node.consequent.length > 0) {
      const [first] = node.consequent;
      regions.push({ start: first.start, end: node.end, enter: (n) => `${note(n)};`, leave: '' });
    }
  });
  // Those around come before those within; of two that begin at one place the longer is around.
  return regions.sort((a, b) => a.start - b.start || b.end - a.end);
}

function note(n) {
  return `__reached[${n}] = 1`;
}

/** The number of the innermost region that holds a stretch of source; -1 for what runs as the file is loaded. */
function regionAt(regions, { start, end }) {
  let inner = -1;
  regions.forEach((region, n) => {
    if (region.start <= start && end <= region.end) inner = n;
  });
  return inner;
}

/**
 * The number of the innermost region that runs with a place; what stands among the parameters of a function outside all others runs
 * with its body.
 */
export function regionOf(tree, regions, place) {
  const region = regionAt(regions, place);
  if (region >= 0) return region;
  let body = null;
  walk(tree, (node) => {
    if (isFunction(node) && node.start <= place.start && place.end <= node.end) body = node.body;
  });
  return body === null ? -1 : regionAt(regions, body.type === 'BlockStatement' ? inside(body) : body);
}

function inside({ start, end }) {
  return { start: start + 1, end: end - 1 };
}

/**
 * The source with every region noting its number in `globalThis.__okuriReached.get(file)` as it runs; without `deep` it only notes
 * that the file is loaded. Lines stay where they are.
 */
export function noting(file, source, { deep }) {
  const regions = deep ? regionsOf(parse(source)) : [];
  const puts = regions.flatMap(({ start, end, enter, leave }, n) => [
    { at: start, text: enter(n), order: n },
    // Of those that end at one place the inner is closed first.
    { at: end, text: leave, order: -n - 1 },
  ]);
  puts.sort((a, b) => a.at - b.at || Number(a.order >= 0) - Number(b.order >= 0) || a.order - b.order);
  let [text, from] = ['', 0];
  for (const put of puts) {
    text += source.slice(from, put.at) + put.text;
    from = put.at;
  }
  const marks = `(globalThis.__okuriReached ??= new Map()).set('${file}', new Uint8Array(${regions.length})).get('${file}')`;
  return `const __reached = ${marks};${text}${source.slice(from)}`;
}

/**
 * Who sees a change of something that runs as the file is loaded, given by its place or by the name of what is changed: the regions
 * that use the constant, or one made from it, and those of these constants that other files may use. Null where that can't be told.
 */
export function usersOf(tree, regions, { start, end, name }) {
  const tops = topsOf(tree);
  const around = (place) => tops.find(({ node }) => node.start <= place.start && place.end <= node.end);
  const first = name !== undefined ? { name } : around({ start, end });
  if (first?.name === undefined) return null;
  const users = new Set();
  const seen = new Map();
  const open = [first];
  for (let top = open.pop(); top !== undefined; top = open.pop()) {
    if (seen.has(top.name)) continue;
    seen.set(top.name, top.exported === true);
    walk(tree, (node, parents) => {
      if (node.type !== 'Identifier' || node.name !== top.name || parents.at(-1)?.type.startsWith('Import')) return;
      const region = regionOf(tree, regions, node);
      if (region >= 0) users.add(region);
      else if (around(node) !== undefined && around(node) !== top) open.push(around(node));
    });
  }
  return { regions: [...users], exported: [...seen].filter(([, exported]) => exported).map(([one]) => one) };
}

/** The constants of a file, outside any function. */
function topsOf(tree) {
  return tree.body.flatMap((one) => {
    const exported = one.type === 'ExportNamedDeclaration';
    const held = exported ? one.declaration : one;
    return held?.type === 'VariableDeclaration'
      ? held.declarations.map((node) => ({ node, name: node.id.name, exported }))
      : [];
  });
}
