import fc from 'fast-check';
import { generateX25519Identity, identityToRecipient } from 'age-encryption';
import { describe, expect, it } from 'vitest';
import { therapistKeySchema } from '../../../src/core/plan/therapist-key.ts';

const ALPHABET = 'qpzry9x8gf2tvdw0s3jn54khce6mua7l';
const key = await identityToRecipient(await generateX25519Identity());

describe('a public key in a plan', () => {
  it('is taken as the age library makes it', async () => {
    for (let made = 0; made < 20; made += 1) {
      const recipient = await identityToRecipient(await generateX25519Identity());
      expect(therapistKeySchema.safeParse(recipient).success).toBe(true);
    }
  });

  it('is refused with one or two characters changed: bech32 finds up to four (BIP 173)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 5, max: 62 }),
        fc.integer({ min: 5, max: 62 }),
        fc.nat(31),
        (one, two, letter) => {
          const put = (text: string, at: number): string =>
            text.slice(0, at - 1) + (ALPHABET[letter] ?? '') + text.slice(at);
          const changed = put(put(key, one), two);
          fc.pre(changed !== key);
          expect(therapistKeySchema.safeParse(changed).success).toBe(false);
        },
      ),
    );
  });

  it.each([
    ['nothing', ''],
    ['the secret key', 'AGE-SECRET-KEY-1QQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQQ'],
    ['capital letters', key.toUpperCase()],
    ['a space behind it', `${key} `],
    ['another kind of key', key.replace('age1', 'bc1q')],
  ])('is not %s', (_, text) => {
    expect(therapistKeySchema.safeParse(text).success).toBe(false);
  });
});
