import { parseAst } from 'vitest/node';

/** The syntax tree of TypeScript source (ESTree, places in UTF-16 units). Source that can't be read throws. */
export function parse(source) {
  return parseAst(source, { lang: 'ts', preserveParens: false });
}

/** What of TypeScript's own syntax holds running code. */
const RUNNING = new Set([
  'TSAsExpression',
  'TSSatisfiesExpression',
  'TSNonNullExpression',
  'TSInstantiationExpression',
]);

/** Visits every node that runs (types are left out) before what it holds; `visit(node, parents)` gets its parents, the nearest last. */
export function walk(root, visit) {
  const parents = [];
  const enter = (node) => {
    if (node.type.startsWith('TS') && !RUNNING.has(node.type)) return;
    visit(node, parents);
    parents.push(node);
    for (const key of Object.keys(node)) {
      const held = node[key];
      if (Array.isArray(held)) for (const one of held) isNode(one) && enter(one);
      else if (isNode(held)) enter(held);
    }
    parents.pop();
  };
  enter(root);
}

function isNode(value) {
  return value !== null && typeof value === 'object' && typeof value.type === 'string';
}

export function isFunction(node) {
  return (
    node.type === 'FunctionDeclaration' || node.type === 'FunctionExpression' || node.type === 'ArrowFunctionExpression'
  );
}

/**
 * The name under which a node's code is found: its named functions and methods from outside in (`joinMarks.at`), or the constant of
 * the file that it is part of.
 */
export function ownerName(parents) {
  const names = [];
  parents.forEach((node, k) => {
    const inside = k > 0 ? parents[k - 1] : null;
    if (node.type === 'FunctionDeclaration' || node.type === 'ClassDeclaration') names.push(node.id?.name ?? 'default');
    else if (node.type === 'MethodDefinition' || node.type === 'PropertyDefinition') names.push(node.key.name ?? 'key');
    else if (node.type === 'VariableDeclarator' && node.id.type === 'Identifier') {
      const top = parents.slice(0, k).every((one) => !isFunction(one) && one.type !== 'BlockStatement');
      const next = parents[k + 1];
      if (top || (next !== undefined && isFunction(next))) names.push(node.id.name);
    } else if (node.type === 'Property' && inside !== null && parents[k + 1] && isFunction(parents[k + 1])) {
      names.push(node.key.name ?? 'key');
    }
  });
  return names.join('.') || 'file';
}
