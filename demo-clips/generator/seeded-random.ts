/** A repeatable stream of numbers, so that a clip can be made again from its seed. */
export interface SeededRandom {
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** One of the choices, all equally likely. */
  pick<T>(choices: readonly [T, ...T[]]): T;
  /** A new stream that depends on this one's seed and the name alone, not on how much was drawn. */
  fork(name: string): SeededRandom;
}

/** mulberry32: 32 bits of state, public-domain generator by Tommy Ettinger; enough for looks and small motions. */
export function createRandom(seed: number): SeededRandom {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    between: (low, high) => low + (high - low) * next(),
    pick: (choices) => choices[Math.floor(next() * choices.length)] ?? choices[0],
    fork: (name) => createRandom(hash(name, seed)),
  };
}

/** Normal with mean 0 and standard deviation 1, within 6: the sum of twelve uniform numbers less 6. */
export function drawNormal(random: SeededRandom): number {
  let sum = -6;
  for (let i = 0; i < 12; i++) sum += random.between(0, 1);
  return sum;
}

/** The numbers from 0 to count - 1 in a seeded order (Fisher and Yates). */
export function shuffledOrder(count: number, random: SeededRandom): number[] {
  const order = Array.from({ length: count }, (_, index) => index);
  for (let last = count - 1; last > 0; last--) {
    const chosen = Math.floor(random.between(0, last + 1));
    [order[last], order[chosen]] = [order[chosen] ?? chosen, order[last] ?? last];
  }
  return order;
}

/** FNV-1a over the name, started from the seed. */
function hash(name: string, seed: number): number {
  let value = (0x811c9dc5 ^ seed) >>> 0;
  for (let i = 0; i < name.length; i++) value = Math.imul(value ^ name.charCodeAt(i), 0x01000193) >>> 0;
  return value;
}

/** A smooth, zero-mean small motion as a function of time in seconds. */
export type Wander = (timeS: number) => number;

/**
 * Small life (sway, tremor, breathing): a sum of sines around the given frequency with seeded phases. Closed form,
 * so that any moment can be asked for on its own. Its largest value stays below the amplitude given.
 */
export function createWander(random: SeededRandom, amplitude: number, frequencyHz: number): Wander {
  const parts = [0.62, 1, 1.47].map((ratio) => ({
    frequencyHz: frequencyHz * ratio * random.between(0.92, 1.08),
    phase: random.between(0, 2 * Math.PI),
    weight: random.between(0.2, 0.33),
  }));
  return (timeS) => {
    let sum = 0;
    for (const part of parts)
      sum += part.weight * Math.sin(2 * Math.PI * part.frequencyHz * timeS + part.phase);
    return amplitude * sum;
  };
}
