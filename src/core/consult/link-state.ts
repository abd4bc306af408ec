/** Why a link is over. */
export type LinkEnd = 'here' | 'there' | 'phrase-differs' | 'hostile' | 'no-way' | 'other-version';

/** Where a link stands. Times are of a clock that only rises, milliseconds. */
export type LinkState =
  | { readonly stage: 'none' }
  | { readonly stage: 'connecting'; readonly untilMs: number }
  /** The line is up; both sides compare the check phrase. */
  | { readonly stage: 'checking'; readonly isSameHere: boolean; readonly isSameThere: boolean }
  | { readonly stage: 'joined' }
  /** The line is down for now. What is recorded goes on. */
  | { readonly stage: 'broken'; readonly sinceMs: number; readonly before: LinkState }
  | { readonly stage: 'ended'; readonly why: LinkEnd };

/** What can happen to a link. */
export type LinkEvent =
  /** A way is looked for, for so long. */
  | { readonly kind: 'begin'; readonly nowMs: number; readonly patienceSeconds: number }
  /** A link that was checked is made anew by what only its two sides know. */
  | { readonly kind: 'return'; readonly nowMs: number }
  | { readonly kind: 'line-up' | 'line-down' | 'tick'; readonly nowMs: number }
  | { readonly kind: 'phrase'; readonly where: 'here' | 'there'; readonly isSame: boolean }
  | { readonly kind: 'end'; readonly why: LinkEnd };

/** Before anything. */
export const NO_LINK: LinkState = { stage: 'none' };

/** The state after an event. Whatever does not belong to a state leaves it as it is; an end is final until a new beginning. */
export function stepLink(state: LinkState, event: LinkEvent): LinkState {
  if (event.kind === 'begin')
    return { stage: 'connecting', untilMs: event.nowMs + event.patienceSeconds * 1000 };
  if (event.kind === 'return') return afterReturn(state, event.nowMs);
  if (state.stage === 'ended' || state.stage === 'none') return state;
  if (event.kind === 'end') return { stage: 'ended', why: event.why };
  if (event.kind === 'phrase') return afterPhrase(state, event);
  if (event.kind === 'line-up') return afterLineUp(state);
  if (event.kind === 'line-down')
    return state.stage === 'checking' || state.stage === 'joined'
      ? { stage: 'broken', sinceMs: event.nowMs, before: state }
      : state;
  const isLate = state.stage === 'connecting' && event.nowMs > state.untilMs;
  return isLate ? { stage: 'ended', why: 'no-way' } : state;
}

/** Nothing is to be compared again: whoever comes back knows what the checked link had told. */
function afterReturn(state: LinkState, nowMs: number): LinkState {
  if (state.stage === 'ended') return state;
  const sinceMs = state.stage === 'broken' ? state.sinceMs : nowMs;
  return { stage: 'broken', sinceMs, before: { stage: 'joined' } };
}

function afterLineUp(state: LinkState): LinkState {
  if (state.stage === 'connecting') return { stage: 'checking', isSameHere: false, isSameThere: false };
  return state.stage === 'broken' ? state.before : state;
}

/** Joined when both sides have said that the words are the same; one that says they differ ends it. */
function afterPhrase(state: LinkState, { where, isSame }: Extract<LinkEvent, { kind: 'phrase' }>): LinkState {
  if (state.stage === 'broken')
    return { ...state, before: afterPhrase(state.before, { kind: 'phrase', where, isSame }) };
  if (state.stage !== 'checking') return state;
  if (!isSame) return { stage: 'ended', why: 'phrase-differs' };
  const isSameHere = state.isSameHere || where === 'here';
  const isSameThere = state.isSameThere || where === 'there';
  return isSameHere && isSameThere ? { stage: 'joined' } : { stage: 'checking', isSameHere, isSameThere };
}

/** Whether both sides are joined, also while the line is down for a while. */
export function hasJoined(state: LinkState): boolean {
  return (state.stage === 'broken' ? state.before : state).stage === 'joined';
}
