/** A public key as people compare it: its beginning and its end. */
export function shortKey(key: string): string {
  return `${key.slice(0, 8)}…${key.slice(-6)}`;
}
