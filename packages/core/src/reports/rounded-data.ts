/** Decimals of figures in the document: 0.1 µm, 0.0001 mm², 0.0001°; finer than anything that is measured. */
const DECIMALS = 4;

/** The same data with every number rounded; what is not finite becomes null, as JSON has no word for it. */
export function roundedData<T>(value: T): T {
  if (typeof value === 'number') {
    return (Number.isFinite(value) ? Number(value.toFixed(DECIMALS)) + 0 : null) as T;
  }
  if (Array.isArray(value)) return value.map(roundedData) as T;
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, roundedData(inner)])) as T;
  }
  return value;
}
