import type { Finding } from '../motif/finding.js';

/** A finding in a document: its sentence as the command says it. */
export function plainFinding({ code, topic, severity, message, atMm, measure }: Finding) {
  return { code, topic, severity, message, atMm, measure };
}
