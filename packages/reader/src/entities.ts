import { InputError } from '@okuri/core';
import { MAX_ENTITIES, MAX_ENTITY_CHARS } from './caps.js';

const DECLARATION = /<!ENTITY\s+([^\s%"'<>]+)\s+("[^"]*"|'[^']*')\s*>/g;
const PREDEFINED: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };

/**
 * The entities that a DOCTYPE's internal subset declares with a plain value, as drawing programs do for namespace
 * addresses. External and parameter entities are not read. An entity made of other entities is refused: that is how a
 * small file is made to swell.
 */
export function readEntities(doctype: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const bare = doctype.replace(/<!--[\s\S]*?-->/g, '');
  for (const [, name, quoted] of bare.matchAll(DECLARATION)) {
    const value = quoted.slice(1, -1);
    if (value.length > MAX_ENTITY_CHARS) {
      throw new InputError(
        `The entity "${name}" of the drawing's DOCTYPE is longer than ${MAX_ENTITY_CHARS} characters.`,
      );
    }
    if (found.size >= MAX_ENTITIES) {
      throw new InputError(`The drawing's DOCTYPE declares more than ${MAX_ENTITIES} entities: save it as plain SVG.`);
    }
    if (!found.has(name)) found.set(name, plainValue(name, value));
  }
  return found;
}

function plainValue(name: string, value: string): string {
  return value.replace(/&(#x[0-9a-fA-F]+|#[0-9]+|[^;&\s]+);/g, (_all, ref: string) => {
    if (ref.startsWith('#')) {
      const code = ref[1] === 'x' ? Number.parseInt(ref.slice(2), 16) : Number.parseInt(ref.slice(1), 10);
      if (code > 0 && code <= 0x10ffff) return String.fromCodePoint(code);
    }
    const known = Object.hasOwn(PREDEFINED, ref) ? PREDEFINED[ref] : undefined;
    if (known !== undefined) return known;
    throw new InputError(
      `The entity "${name}" of the drawing's DOCTYPE is built from the entity "${ref}"; nested entities are not read: ` +
        'save the drawing as plain SVG.',
    );
  });
}
