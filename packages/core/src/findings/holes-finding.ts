import type { Finding } from '../motif/finding.js';

/** A finding about the sheet of holes, whose frame is not the unit's: it has no place there. */
export function finding(
  code: string,
  severity: Finding['severity'],
  { message, measure }: Pick<Finding, 'message' | 'measure'>,
): Finding {
  return { code, topic: 'squaring', severity, message, atMm: null, measure };
}
