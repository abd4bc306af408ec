import { preferencesSchema, type Preferences, type PreferencesStore } from '../core/session/preferences.ts';

/** What was chosen, kept from visit to visit. */
export class Settings {
  readonly #store: PreferencesStore;
  #preferences = $state.raw<Preferences>(preferencesSchema.parse({}));

  constructor(store: PreferencesStore) {
    this.#store = store;
    const kept = preferencesSchema.safeParse(store.read() ?? {});
    if (kept.success) this.#preferences = kept.data;
  }

  /** All preferences as they stand. */
  get now(): Preferences {
    return this.#preferences;
  }

  /** Changes some of them and keeps the result. */
  change(some: Partial<Preferences>): void {
    this.#preferences = { ...this.#preferences, ...some };
    this.#store.write(this.#preferences);
  }
}
