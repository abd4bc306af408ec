/** A place in the app, as it stands behind the # of the address. */
export type Place =
  | { readonly screen: 'begin' }
  | { readonly screen: 'live' }
  | { readonly screen: 'sessions' }
  | { readonly screen: 'look-back'; readonly sessionId: string }
  /** link: a whole plan as it stands in the address behind the #, which no browser sends to a server. */
  | { readonly screen: 'plan'; readonly link: string | null }
  | { readonly screen: 'write-plan' }
  | { readonly screen: 'progress' };

/** How a hash begins that holds a plan (core/plan/plan-link.ts, which is loaded with the screen). */
const PLAN_LINK = '#plan=';

/** Reads a place out of an address's hash; whatever is not known leads to Begin. */
function placeOf(hash: string): Place {
  if (hash.startsWith(PLAN_LINK)) return { screen: 'plan', link: hash.slice(1) };
  const [screen, id] = hash.replace(/^#\/?/, '').split('/');
  if (screen === 'live' || screen === 'sessions' || screen === 'progress' || screen === 'write-plan')
    return { screen };
  if (screen === 'plan') return { screen, link: null };
  if (screen === 'look-back' && id !== undefined && id !== '') {
    return { screen, sessionId: decodeURIComponent(id) };
  }
  return { screen: 'begin' };
}

/** The address of a place, for links. */
export function addressOf(place: Place): string {
  if (place.screen === 'look-back') return `#/look-back/${encodeURIComponent(place.sessionId)}`;
  if (place.screen === 'plan' && place.link !== null) return `#${place.link}`;
  return `#/${place.screen}`;
}

/** Where in the app one is: follows the address's hash, so that the browser's back and forward work. */
export class AppNavigation {
  #place = $state.raw<Place>({ screen: 'begin' });

  constructor() {
    this.#place = placeOf(location.hash);
    window.addEventListener('hashchange', () => {
      this.#place = placeOf(location.hash);
    });
  }

  get place(): Place {
    return this.#place;
  }

  go(place: Place): void {
    location.hash = addressOf(place);
  }

  /** Goes to a place in place of the one where one is: the browser's back does not lead here again. */
  replace(place: Place): void {
    location.replace(addressOf(place));
  }
}
