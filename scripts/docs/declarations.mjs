import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { parseAst } from 'vitest/node';

/**
 * What an entry of a package exports, in the order of the names: `{ name, text, about }` with the declaration's text as the compiler writes it and the comment
 * before it. `entry` is a `.d.ts` that lists names of other modules.
 */
export function declarationsOf(entry) {
  return exportsOf(entry)
    .map(({ name, from, local }) => {
      const own = declarationsNamed(from, local);
      return { name, text: own.map(({ text }) => text).join('\n'), about: own[0].about };
    })
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

/** The names that a module passes on from other modules. */
function exportsOf(file) {
  return parse(file).tree.body.flatMap((node) => {
    if (node.type !== 'ExportNamedDeclaration' || node.source === null) return [];
    const from = join(dirname(file), node.source.value.replace(/\.js$/, '.d.ts'));
    return node.specifiers.map(({ local, exported }) => ({ name: exported.name, local: local.name, from }));
  });
}

const parsed = new Map();

function parse(file) {
  let known = parsed.get(file);
  if (known === undefined) {
    const source = readFileSync(file, 'utf8');
    known = { source, tree: parseAst(source, { lang: 'dts' }) };
    parsed.set(file, known);
  }
  return known;
}

/** All declarations of one name in a module, or where that has it from: a function may have several. */
function declarationsNamed(file, name) {
  const { source, tree } = parse(file);
  const own = tree.body.flatMap((node) => {
    const declared = node.declaration ?? node;
    const names = declared.declarations?.map(({ id }) => id.name) ?? [declared.id?.name];
    if (!names.includes(name)) return [];
    const text = source.slice(declared.start, declared.end).replace(/^export /, '');
    return [{ text: plain(text), about: commentBefore(source, node.start) }];
  });
  if (own.length > 0) return own;
  const passed = exportsOf(file).find((one) => one.name === name);
  if (passed === undefined) throw new Error(`${file} does not declare ${name}.`);
  return declarationsNamed(passed.from, passed.local);
}

/** Without the comments within it, which are no part of what may be called. */
function plain(text) {
  // Where the compiler has a type from is its own affair.
  const bare = text.replaceAll(/import\("[^"]+"\)\./g, '');
  return bare.replaceAll(/\n?\s*\/\*\*[\s\S]*?\*\//g, '').replace(/^declare /, '');
}

function commentBefore(source, at) {
  const comment = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/.exec(source.slice(0, at));
  return comment === null
    ? ''
    : comment[1]
        .split('\n')
        .map((line) => line.replace(/^\s*\*? ?/, ''))
        .join('\n')
        .trim();
}
