/**
 * The first member name that an object of a JSON text gives twice, or null. JSON leaves open which of the two counts
 * (RFC 8259, section 4), so that such a document could be read as one thing here and as another elsewhere. The text must
 * be JSON.
 */
export function nameGivenTwice(text: string): string | null {
  /** Names so far of each object that is open; null for a list. */
  const open: (Set<string> | null)[] = [];
  for (const [token, name] of text.matchAll(/("(?:[^"\\]|\\.)*")[ \t\n\r]*:|"(?:[^"\\]|\\.)*"|[{}[\]]/g)) {
    if (token === '{') open.push(new Set());
    else if (token === '[') open.push(null);
    else if (token === '}' || token === ']') open.pop();
    else if (name !== undefined) {
      const known = open.at(-1);
      // Names may be written with escapes; what counts is what they say.
      const said = String(JSON.parse(name));
      if (known?.has(said)) return said;
      known?.add(said);
    }
  }
  return null;
}
