import { spawn } from 'node:child_process';

/** The program by which a system opens an address in the person's own browser, and its arguments. No shell reads the address. */
export function openerOf(platform: NodeJS.Platform, address: string): readonly [string, readonly string[]] {
  switch (platform) {
    case 'darwin':
      return ['open', [address]];
    case 'win32':
      return ['rundll32', ['url.dll,FileProtocolHandler', address]];
    default:
      return ['xdg-open', [address]];
  }
}

/** Opens an address in the person's browser. Where that can't be done nothing happens: the address has been said. */
export function openBrowser(address: string): void {
  const [program, args] = openerOf(process.platform, address);
  const child = spawn(program, args, { detached: true, stdio: 'ignore' });
  child.on('error', () => undefined);
  child.unref();
}
