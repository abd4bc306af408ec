/** A place in the app, as it stands behind the # of the address. */
export type Place =
  | { readonly screen: 'begin' }
  | { readonly screen: 'live' }
  | { readonly screen: 'sessions' }
  | { readonly screen: 'look-back'; readonly sessionId: string }
  /** link: a whole plan that stands in the address behind the #, which no browser sends to a server. */
  | { readonly screen: 'plan'; readonly link: string | null }
  | { readonly screen: 'progress' };

/** Reads a place out of an address's hash; whatever is not known leads to Begin. */
function placeOf(hash: string): Place {
  const [screen, id] = hash.replace(/^#\/?/, '').split('/');
  if (screen === 'live' || screen === 'sessions' || screen === 'progress') return { screen };
  if (screen === 'plan') return { screen, link: id === undefined || id === '' ? null : id };
  if (screen === 'look-back' && id !== undefined && id !== '') {
    return { screen, sessionId: decodeURIComponent(id) };
  }
  return { screen: 'begin' };
}

/** The address of a place, for links. */
export function addressOf(place: Place): string {
  if (place.screen === 'look-back') return `#/look-back/${encodeURIComponent(place.sessionId)}`;
  if (place.screen === 'plan' && place.link !== null) return `#/plan/${place.link}`;
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
}
