import type { Finding } from '../motif/finding.js';
import type { Notice } from '../motif/types.js';

/** How the job was read, where that is not as it is written. */
export function remarkFinding(message: string): Finding {
  return { code: 'job-read-as', topic: 'repeat', severity: 'note', message, atMm: null, measure: null };
}

/** What the reader has to say of the drawing. */
export function noticeFinding(notice: Notice): Finding {
  return {
    code: notice.code,
    topic: 'motif',
    severity: notice.severity,
    message: notice.message,
    atMm: notice.boxMm ? { x: notice.boxMm.x0, y: notice.boxMm.y0 } : null,
    measure: { element: notice.element },
  };
}
