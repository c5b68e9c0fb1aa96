/** What a job file holds under the name of a key, such as `pages.paper`; undefined where it says nothing. */
export function writtenAt(file: Readonly<Record<string, unknown>>, name: string): unknown {
  let value: unknown = file;
  for (const step of name.split('.')) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string, unknown>)[step];
  }
  return value;
}
