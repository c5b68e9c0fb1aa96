import { isFunction, ownerName, parse, walk } from './syntax.mjs';

/** What an operator sign turns into: the change's name and the sign. */
const SIGNS = {
  '+': [['plus-to-minus', '-']],
  '-': [['minus-to-plus', '+']],
  '*': [['times-to-over', '/']],
  '/': [['over-to-times', '*']],
  '%': [['rest-to-times', '*']],
  '<': [
    ['less-to-at-most', '<='],
    ['less-negated', '>='],
  ],
  '<=': [
    ['at-most-to-less', '<'],
    ['at-most-negated', '>'],
  ],
  '>': [
    ['more-to-at-least', '>='],
    ['more-negated', '<='],
  ],
  '>=': [
    ['at-least-to-more', '>'],
    ['at-least-negated', '<'],
  ],
  '===': [['same-negated', '!==']],
  '!==': [['other-negated', '===']],
  '&&': [['and-to-or', '||']],
  '||': [['or-to-and', '&&']],
  '+=': [['add-to-subtract', '-=']],
  '-=': [['subtract-to-add', '+=']],
  '*=': [['multiply-to-divide', '/=']],
  '/=': [['divide-to-multiply', '*=']],
};

const pairs = (...list) =>
  Object.fromEntries(
    list.flatMap(([a, b]) => [
      [a, b],
      [b, a],
    ]),
  );

const METHODS = pairs(['min', 'max'], ['sin', 'cos'], ['floor', 'ceil'], ['some', 'every'], ['startsWith', 'endsWith']);
METHODS.round = 'floor';
METHODS.trunc = 'ceil';

/** Calls that may go while what they are called on stays. */
const DROPPED_CALLS = new Set(['sort', 'toSorted', 'reverse', 'toReversed', 'filter', 'slice']);

const FIELDS = pairs(
  ['x', 'y'],
  ['x0', 'x1'],
  ['y0', 'y1'],
  ['width', 'height'],
  ['widthMm', 'heightMm'],
  ['i', 'j'],
  ['p', 'q'],
  ['a', 'b'],
  ['u', 'v'],
  ['start', 'end'],
  ['left', 'right'],
  ['top', 'bottom'],
  ['low', 'high'],
  ['row', 'column'],
  ['across', 'along'],
  ['scaleAcross', 'scaleAlong'],
);

const LEAVING = new Set(['ReturnStatement', 'ContinueStatement', 'BreakStatement', 'ThrowStatement']);

/**
 * All mutants of a file's source, in the order of the source: `{ name, site, owner, operator, start, end, text }`, where `text`
 * comes in place of `source.slice(start, end)`. `name` is `file:function#operator@ordinal`, so that it outlives moved lines; mutants
 * of one `site` change one node.
 */
export function mutantsOf(file, source) {
  const found = [];
  walk(parse(source), (node, parents) => {
    const changes = (CHANGES[node.type]?.(node, parents, source) ?? []).filter(
      ({ start, end, text }) => source.slice(start, end) !== text,
    );
    if (changes.length > 0) found.push({ at: node.start, owner: ownerName([...parents, node]), changes });
  });
  found.sort((a, b) => a.at - b.at);
  const counts = new Map();
  return found.flatMap(({ owner, changes }) => {
    const mutants = changes.map((change) => {
      const key = `${file}:${owner}#${change.operator}`;
      const ordinal = (counts.get(key) ?? 0) + 1;
      counts.set(key, ordinal);
      return { ...change, file, owner, name: `${key}@${ordinal}` };
    });
    return mutants.map((mutant) => ({ ...mutant, site: mutants[0].name }));
  });
}

/** The source with one mutant in place. */
export function mutated(source, { start, end, text }) {
  return source.slice(0, start) + text + source.slice(end);
}

const CHANGES = {
  BinaryExpression: signChanges,
  LogicalExpression(node, parents, source) {
    if (node.operator === '??') return [only(node, node.right, 'default-always', source)];
    return signChanges(node, parents, source);
  },
  AssignmentExpression: signChanges,
  UpdateExpression(node, parents, source) {
    // A loop that counts the other way never ends and says nothing.
    if (parents.at(-1)?.type === 'ForStatement') return [];
    const text = source.slice(node.start, node.end);
    const up = node.operator === '++';
    return [put(node, up ? 'count-up-to-down' : 'count-down-to-up', text.replace(node.operator, up ? '--' : '++'))];
  },
  UnaryExpression(node, _parents, source) {
    if (node.operator === '-') return [only(node, node.argument, 'minus-dropped', source)];
    if (node.operator === '!') return [only(node, node.argument, 'not-dropped', source)];
    return [];
  },
  Literal(node, parents) {
    if (isName(node, parents)) return [];
    if (typeof node.value === 'boolean')
      return [put(node, node.value ? 'true-to-false' : 'false-to-true', String(!node.value))];
    if (typeof node.value !== 'number') return [];
    const n = node.value;
    const changes = [
      ['constant-plus-one', n + 1],
      ['constant-minus-one', n - 1],
      ['constant-doubled', 2 * n],
      ['constant-zero', 0],
    ];
    const kept = changes.filter(([, value], k) => value !== n && changes.findIndex(([, v]) => v === value) === k);
    return kept.map(([operator, value]) => put(node, operator, value < 0 ? `(${value})` : String(value)));
  },
  IfStatement(node) {
    const last = node.consequent.type === 'BlockStatement' ? node.consequent.body.at(-1) : node.consequent;
    const leaves = node.alternate === null && last !== undefined && LEAVING.has(last.type);
    return [
      put(node.test, 'if-always', 'true'),
      leaves ? put(node, 'early-exit-dropped', ';') : put(node.test, 'if-never', 'false'),
    ];
  },
  ConditionalExpression(node) {
    return [put(node.test, 'choice-first', 'true'), put(node.test, 'choice-second', 'false')];
  },
  ExpressionStatement(node) {
    const inner = node.expression;
    // Counting goes by its own operators: without it loops never end.
    return ['CallExpression', 'AssignmentExpression', 'AwaitExpression'].includes(inner.type)
      ? [put(node, 'statement-dropped', ';')]
      : [];
  },
  CallExpression(node, _parents, source) {
    const changes = [];
    const { callee } = node;
    if (callee.type === 'MemberExpression' && !callee.computed) {
      const method = callee.property.name;
      if (Object.hasOwn(METHODS, method)) {
        changes.push(put(callee.property, `${method}-to-${METHODS[method]}`, METHODS[method]));
      }
      if (method === 'abs') changes.push(only(node, node.arguments[0], 'abs-dropped', source));
      if (DROPPED_CALLS.has(method)) changes.push(only(node, callee.object, `${method}-dropped`, source));
    }
    return [...changes, ...swappedArguments(node, source)];
  },
  MemberExpression(node, parents) {
    if (node.computed || !Object.hasOwn(FIELDS, node.property.name)) return [];
    const above = parents.at(-1);
    if (above?.type === 'CallExpression' && above.callee === node) return [];
    const field = node.property.name;
    return [put(node.property, `${field}-to-${FIELDS[field]}`, FIELDS[field])];
  },
  ObjectExpression(node, _parents, source) {
    const named = new Map(
      node.properties
        .filter((one) => one.type === 'Property' && one.key.type === 'Identifier')
        .map((one) => [one.key.name, one]),
    );
    return [...named].flatMap(([field, first]) => {
      const second = named.get(FIELDS[field]);
      if (second === undefined || first.start > second.start) return [];
      const value = (one) => source.slice(one.value.start, one.value.end);
      const between = source.slice(first.end, second.start);
      const text = `${field}: ${value(second)}${between}${second.key.name}: ${value(first)}`;
      return [{ operator: `${field}-and-${second.key.name}-swapped`, start: first.start, end: second.end, text }];
    });
  },
};

function signChanges(node, _parents, source) {
  const from = node.left.end;
  const at = from + source.slice(from, node.right.start).indexOf(node.operator);
  return (SIGNS[node.operator] ?? []).map(([operator, text]) => ({
    operator,
    start: at,
    end: at + node.operator.length,
    text,
  }));
}

/** Neighbouring arguments that may be of one type: the compiler tells those apart that are not. */
function swappedArguments({ arguments: given }, source) {
  const plain = (one) => one.type !== 'SpreadElement' && one.type !== 'ObjectExpression' && !isFunction(one);
  return given.slice(1).flatMap((second, k) => {
    const first = given[k];
    if (!plain(first) || !plain(second)) return [];
    const part = ({ start, end }) => source.slice(start, end);
    const text = part(second) + source.slice(first.end, second.start) + part(first);
    return [{ operator: `arguments-${k + 1}-and-${k + 2}-swapped`, start: first.start, end: second.end, text }];
  });
}

/** Whether a literal names something (a key, a module) and is no value. */
function isName(node, parents) {
  const above = parents.at(-1);
  return (
    (above?.type === 'Property' && above.key === node && !above.computed) ||
    above?.type.startsWith('Import') ||
    above?.type.startsWith('Export')
  );
}

function put({ start, end }, operator, text) {
  return { operator, start, end, text };
}

function only(node, kept, operator, source) {
  return put(node, operator, `(${source.slice(kept.start, kept.end)})`);
}
