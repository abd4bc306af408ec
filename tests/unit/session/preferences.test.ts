import { describe, expect, it } from 'vitest';
import { preferencesSchema } from '../../../src/core/session/preferences.ts';

describe('preferences', () => {
  it('never guess the treated arm', () => {
    expect(preferencesSchema.parse({}).side).toBeNull();
  });

  it('mend a damaged field and keep the others', () => {
    const kept = preferencesSchema.parse({ side: 'left', statureCm: 999, theme: 'sepia', voice: true });
    expect(kept).toMatchObject({ side: 'left', statureCm: null, theme: 'system', voice: true });
  });

  it('leave the network to the machine until one is chosen', () => {
    expect(preferencesSchema.parse({})).toMatchObject({ network: 'automatic', fittedNetwork: null });
    expect(preferencesSchema.parse({ network: 'huge', fittedNetwork: 'heavy' })).toMatchObject({
      network: 'automatic',
      fittedNetwork: null,
    });
  });

  it('survive being written and read', () => {
    const chosen = { ...preferencesSchema.parse({}), exercise: 'band-curl', variant: 'turning' } as const;
    expect(preferencesSchema.parse(JSON.parse(JSON.stringify(chosen)))).toEqual(chosen);
  });
});
