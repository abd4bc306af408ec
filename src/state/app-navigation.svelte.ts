/** A place in the app, as it stands behind the # of the address. */
export type Place =
  | { readonly screen: 'begin' }
  | { readonly screen: 'live' }
  | { readonly screen: 'sessions' }
  | { readonly screen: 'look-back'; readonly sessionId: string }
  /** link: a whole plan as it stands in the address behind the #, which no browser sends to a server. */
  | { readonly screen: 'plan'; readonly link: string | null }
  | { readonly screen: 'write-plan' }
  /** planId: whose; without one the plan that was open or is followed. */
  | { readonly screen: 'progress'; readonly planId?: string }
  /** Two sessions beside each other. parts: one hold or repetition of each (core/review/compared-part.ts). */
  | {
      readonly screen: 'compare';
      readonly sessionIds: readonly [string, string];
      readonly parts?: readonly string[];
    }
  /** A session on paper. */
  | { readonly screen: 'report'; readonly sessionId: string }
  /** planId: whose things are sent; without one those of the plan that was chosen or is followed. */
  | { readonly screen: 'exchange'; readonly planId?: string }
  /** invitation: as it stands in the address behind the #. */
  | { readonly screen: 'consult'; readonly invitation: string | null };

/** How a hash begins that holds a plan (core/plan/plan-link.ts, which is loaded with the screen). */
const PLAN_LINK = '#plan=';
/** How a hash begins that holds an invitation to a consult (core/consult/invitation.ts). */
const CONSULT_LINK = '#consult=';

/** Screens that are gone to by their name alone. */
const PLAIN_SCREENS = ['live', 'sessions', 'write-plan'] as const;

/** Reads a place out of an address's hash; whatever is not known leads to Begin. */
function placeOf(hash: string): Place {
  if (hash.startsWith(PLAN_LINK)) return { screen: 'plan', link: hash.slice(1) };
  if (hash.startsWith(CONSULT_LINK)) return { screen: 'consult', invitation: hash.slice(1) };
  const [screen, ...ids] = hash.replace(/^#\/?/, '').split('/');
  const [id, other, ...parts] = ids.filter((each) => each !== '').map(decodeURIComponent);
  const plain = PLAIN_SCREENS.find((each) => each === screen);
  if (plain !== undefined) return { screen: plain };
  if (screen === 'progress' || screen === 'exchange')
    return id === undefined ? { screen } : { screen, planId: id };
  if (screen === 'consult') return { screen, invitation: null };
  if (screen === 'plan') return { screen, link: null };
  if ((screen === 'look-back' || screen === 'report') && id !== undefined) return { screen, sessionId: id };
  if (screen === 'compare' && id !== undefined && other !== undefined)
    return { screen, sessionIds: [id, other], parts };
  return { screen: 'begin' };
}

/** The address of a place, for links. */
export function addressOf(place: Place): string {
  if (place.screen === 'look-back' || place.screen === 'report')
    return `#/${place.screen}/${encodeURIComponent(place.sessionId)}`;
  if (place.screen === 'compare')
    return `#/compare/${[...place.sessionIds, ...(place.parts ?? [])].map(encodeURIComponent).join('/')}`;
  if ((place.screen === 'progress' || place.screen === 'exchange') && place.planId !== undefined)
    return `#/${place.screen}/${encodeURIComponent(place.planId)}`;
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
