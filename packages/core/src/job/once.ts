/** Works out a value when it is first asked for. */
export function once<T>(work: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: work() };
    return made.value;
  };
}

/** An object whose parts are worked out when they are first read. A copy of it (`{ ...lazy }`) works out all of them. */
export function lazily<T extends object>(parts: { readonly [K in keyof T]: () => T[K] }): T {
  const whole = {};
  for (const name of Object.keys(parts) as (keyof T & string)[]) {
    Object.defineProperty(whole, name, { enumerable: true, get: once(parts[name]) });
  }
  return whole as T;
}
