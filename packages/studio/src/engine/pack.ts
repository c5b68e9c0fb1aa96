/**
 * Plain data with all its `Float64Array`s laid into one buffer. A drawing has tens of thousands of outlines: one large buffer crosses to the
 * other thread in no time, as many small ones do not. Arrays that share a buffer keep sharing it on the other side.
 */
export function packed<T>(value: T): { readonly value: T; readonly buffer: ArrayBuffer } {
  const arrays = new Map<Float64Array, number>();
  let length = 0;
  const count = (one: unknown): void => {
    if (one instanceof Float64Array) {
      if (arrays.has(one)) return;
      arrays.set(one, length);
      length += one.length;
    } else if (one instanceof Map) {
      for (const inner of one.values()) count(inner);
    } else if (Array.isArray(one)) {
      for (const inner of one) count(inner);
    } else if (isGroup(one)) {
      for (const inner of Object.values(one)) count(inner);
    }
  };
  count(value);
  const all = new Float64Array(length);
  for (const [array, at] of arrays) all.set(array, at);
  const copy = (one: unknown): unknown => {
    if (one instanceof Float64Array) {
      const at = arrays.get(one) as number;
      return all.subarray(at, at + one.length);
    }
    if (one instanceof Map) return new Map([...one].map(([key, inner]) => [key, copy(inner)]));
    if (Array.isArray(one)) return one.map(copy);
    if (isGroup(one)) return Object.fromEntries(Object.entries(one).map(([key, inner]) => [key, copy(inner)]));
    return one;
  };
  return { value: copy(value) as T, buffer: all.buffer };
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !ArrayBuffer.isView(value) && !(value instanceof Map);
}
