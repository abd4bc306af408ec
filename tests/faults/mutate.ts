/** A JSON value made hostile at a random place, and what was done to it. */
export interface Mutation {
  readonly what: string;
  readonly text: string;
}

type Chance = () => number;

const NUMBERS = [-1, 0, 1e308, -1e308, 1.5, 2 ** 53, 1e-320, 4294967296];
const STRINGS = [
  '',
  '\u0000',
  '\u202e<script>alert(1)</script>',
  '../../etc',
  'NaN',
  '2026-13-45',
  '9'.repeat(4000),
];

/** One random change of a document's JSON: of its bytes, its structure, its numbers, its texts. */
export function mutated(good: unknown, chance: Chance): Mutation {
  const pick = <Item>(items: readonly Item[]): Item => {
    const item = items[Math.floor(chance() * items.length)];
    if (item === undefined) throw new Error('mutated: nothing to pick from.');
    return item;
  };
  const text = JSON.stringify(good);
  switch (
    pick(['cut', 'byte', 'insert', 'twice', 'deep', 'value', 'value', 'value', 'drop', 'add', 'list'])
  ) {
    case 'cut':
      return { what: 'cut', text: text.slice(0, Math.floor(chance() * text.length)) };
    case 'byte': {
      const at = Math.floor(chance() * text.length);
      const changed = String.fromCharCode((text.charCodeAt(at) ^ (1 << Math.floor(chance() * 7))) & 0x7f);
      return { what: 'byte', text: text.slice(0, at) + changed + text.slice(at + 1) };
    }
    case 'insert': {
      const at = Math.floor(chance() * text.length);
      return {
        what: 'insert',
        text: text.slice(0, at) + pick(['{', ']', ',', '"', '\u0000', '1e9']) + text.slice(at),
      };
    }
    case 'twice': {
      const names = [...text.matchAll(/"(\w+)":/g)];
      const match = pick(names);
      return {
        what: 'name twice',
        text: `${text.slice(0, match.index)}"${match[1] ?? ''}":null,${text.slice(match.index)}`,
      };
    }
    case 'deep':
      return { what: 'deep', text: text.replace(/:/, `:${'['.repeat(20_000)}${']'.repeat(20_000)},"x":`) };
    case 'drop':
      return inside(good, chance, 'drop', () => undefined);
    case 'add':
      return inside(good, chance, 'unknown name', (value) =>
        typeof value === 'object' && value !== null && !Array.isArray(value)
          ? { ...value, surprise: 1 }
          : { surprise: 1 },
      );
    case 'list':
      return inside(good, chance, 'long list', (value) =>
        Array.isArray(value) ? [...value, ...value, null] : [value],
      );
    default:
      return inside(good, chance, 'value', (value) =>
        typeof value === 'number'
          ? pick(NUMBERS)
          : typeof value === 'string'
            ? pick(STRINGS)
            : pick([null, {}, [], true, 7]),
      );
  }
}

/** Changes one random place anywhere below the top. */
function inside(good: unknown, chance: Chance, what: string, change: (value: unknown) => unknown): Mutation {
  const copy: unknown = JSON.parse(JSON.stringify(good));
  let at: unknown = copy;
  for (;;) {
    if (typeof at !== 'object' || at === null) break;
    const holder = at as Record<string, unknown>;
    const names = Object.keys(holder);
    const name = names[Math.floor(chance() * names.length)];
    if (name === undefined) break;
    const inner = holder[name];
    const goesOn =
      typeof inner === 'object' && inner !== null && Object.keys(inner).length > 0 && chance() < 0.8;
    if (goesOn) {
      at = inner;
      continue;
    }
    const value = change(inner);
    if (value === undefined && Array.isArray(holder)) holder.splice(Number(name), 1);
    else if (value === undefined) Reflect.deleteProperty(holder, name);
    else holder[name] = value;
    break;
  }
  return { what, text: JSON.stringify(copy) };
}

/** Bytes with one thing wrong: cut, a bit turned, a part doubled, or noise in their place. */
export function mutatedBytes(
  good: Uint8Array,
  chance: Chance,
): { readonly what: string; readonly bytes: Uint8Array<ArrayBuffer> } {
  const bytes = new Uint8Array(good);
  const at = Math.floor(chance() * bytes.length);
  const kind = Math.floor(chance() * 4);
  if (kind === 0) return { what: 'cut', bytes: bytes.slice(0, at) };
  if (kind === 1) {
    bytes[at] = (bytes[at] ?? 0) ^ (1 << Math.floor(chance() * 8));
    return { what: 'bit', bytes };
  }
  if (kind === 2) {
    const doubled = new Uint8Array(bytes.length + 16);
    doubled.set(bytes.subarray(0, at));
    doubled.set(bytes.subarray(Math.max(0, at - 16)), Math.max(at, 16));
    return { what: 'doubled', bytes: doubled };
  }
  for (let place = at; place < Math.min(bytes.length, at + 32); place++)
    bytes[place] = Math.floor(chance() * 256);
  return { what: 'noise', bytes };
}
