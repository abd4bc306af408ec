import type { Preferences, PreferencesStore } from '../../core/session/preferences.ts';

const KEY = 'forearmed.preferences';

/** Preferences in the browser's small storage. Where that is forbidden (a private window) they last for the visit. */
export class LocalPreferences implements PreferencesStore {
  read(): unknown {
    try {
      const text = localStorage.getItem(KEY);
      return text === null ? null : JSON.parse(text);
    } catch {
      return null;
    }
  }

  write(preferences: Preferences): void {
    try {
      localStorage.setItem(KEY, JSON.stringify(preferences));
    } catch {
      // Full or forbidden: the choice holds for this visit, and nothing measured depends on it.
    }
  }
}
