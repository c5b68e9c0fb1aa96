/**
 * What the page may do (Content Security Policy Level 3): run its own scripts and threads, show its own pictures and those that it makes, and
 * reach nothing but the files it came with. So the artwork can't leave the machine, whatever the host.
 */
export const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');
