import type { Point } from '../geometry/types.js';

/** `stop`: can't be printed. `fix`: will show or tear. `look`: only a person can tell. `note`: for information. */
export type Severity = 'stop' | 'fix' | 'look' | 'note';

/** Something a person should know. The code is stable; the message is built from the measures. */
export interface Finding {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  /** Where it is on the unit, mm from its upper left; null where it is about the whole. */
  readonly atMm: Point | null;
  readonly measure: Readonly<Record<string, number | string>> | null;
}
