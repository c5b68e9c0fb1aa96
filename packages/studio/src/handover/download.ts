/** Hands a file to the browser's downloads. */
export function download(name: string, type: string, bytes: Uint8Array | string): void {
  const address = URL.createObjectURL(new Blob([bytes as BlobPart], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The download has taken what it needs long before.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
