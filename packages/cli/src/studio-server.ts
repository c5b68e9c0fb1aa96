import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Answer } from './studio-files.js';

/** Only this machine reaches it: no other network card listens. */
const HOST = '127.0.0.1';

/** A studio that is being served. */
export interface Served {
  /** `http://127.0.0.1:PORT/` */
  readonly address: string;
  readonly port: number;
  close(): Promise<void>;
}

/**
 * What the page may do (Content Security Policy Level 3): run its own scripts and threads, show its own pictures and those that it
 * makes, and reach nothing but this server. The built page says the same of itself for other hosts; `frame-ancestors` only a
 * server can say.
 */
const POLICY = [
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
  "frame-ancestors 'none'",
].join('; ');

const HEADERS = {
  'content-security-policy': POLICY,
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
} as const;

/**
 * Serves answers that are ready to this machine alone, on `port` or, with 0, on any that is free. Rejects with the system's error where
 * the port can't be had.
 */
export async function serveAnswers(answers: ReadonlyMap<string, Answer>, port: number): Promise<Served> {
  const server = createServer((request, response) => reply(request, response, answers));
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, HOST, resolve);
  });
  const { port: taken } = server.address() as AddressInfo;
  return {
    address: `http://${HOST}:${taken}/`,
    port: taken,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

function reply(request: IncomingMessage, response: ServerResponse, answers: ReadonlyMap<string, Answer>): void {
  const { code, type, caching, bytes, allow } = answerTo(request, answers);
  response.writeHead(code, {
    ...HEADERS,
    'content-type': type,
    'content-length': bytes.length,
    'cache-control': caching,
    ...(allow === undefined ? {} : { allow }),
  });
  response.end(request.method === 'HEAD' ? undefined : bytes);
}

function answerTo(
  request: IncomingMessage,
  answers: ReadonlyMap<string, Answer>,
): Answer & { readonly code: number; readonly allow?: string } {
  const { method = '', url = '/' } = request;
  if (!isForThisMachine(request)) return { code: 421, ...sentence('This server answers to 127.0.0.1 alone.') };
  if (method !== 'GET' && method !== 'HEAD') {
    return { code: 405, allow: 'GET, HEAD', ...sentence('Files can only be read here.') };
  }
  const answer = answers.get(pathOf(url));
  return answer === undefined ? { code: 404, ...sentence('There is no such file.') } : { code: 200, ...answer };
}

/** A page of another site can give its own name this machine's address, and would be let in to read the artwork: its requests carry its own name. */
function isForThisMachine({ headers, socket }: IncomingMessage): boolean {
  return [HOST, 'localhost'].some((name) => headers.host === `${name}:${socket.localPort}`);
}

/** Decoded once and looked up as it stands: `..` and the like are in no list. */
function pathOf(url: string): string {
  const [path] = url.split(/[?#]/);
  try {
    return decodeURIComponent(path);
  } catch {
    return '';
  }
}

function sentence(text: string): Answer {
  return { type: 'text/plain; charset=utf-8', caching: 'no-store', bytes: new TextEncoder().encode(`${text}\n`) };
}
