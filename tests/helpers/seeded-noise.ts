/** A seeded stream of uniform numbers from 0 to 1 (mulberry32, public domain, Tommy Ettinger). */
export function seededUniform(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A standard normal number by Box and Muller. */
export function normal(uniform: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/**
 * Noise whose neighbours are alike, as landmark noise is: a first-order autoregression of the given standard deviation
 * and correlation time, read at rising times.
 */
export function correlatedNoise(
  uniform: () => number,
  sd: number,
  correlationSeconds: number,
): (timeSeconds: number) => number {
  let value = sd * normal(uniform);
  let last: number | null = null;
  return (timeSeconds) => {
    if (last !== null) {
      const keep = Math.exp(-(timeSeconds - last) / correlationSeconds);
      value = keep * value + Math.sqrt(1 - keep * keep) * sd * normal(uniform);
    }
    last = timeSeconds;
    return value;
  };
}
