/**
 * Asked once before the first plan: a yes goes to the therapist, and no hold at high effort starts before their
 * decision. Raised pressure in straining is the reason: common practice, no source.
 */
export const PLAN_QUESTIONS = [
  'blood-pressure',
  'heart-disease',
  'aneurysm',
  'hernia',
  'recent-surgery',
] as const;
export type PlanQuestion = (typeof PLAN_QUESTIONS)[number];

/**
 * Asked before each session: a yes means no session, seek care now, and the therapist sees it. Signs of a torn tendon:
 * Morrey's criteria and O'Driscoll et al. 2007 (AJSM 35:1865-69); the others are common practice, no source. No for an
 * answer clears nobody.
 */
export const SESSION_QUESTIONS = [
  'pop',
  'sudden-weakness',
  'bruising',
  'changed-contour',
  'numbness',
  'fever',
  'recent-fall',
] as const;
export type SessionQuestion = (typeof SESSION_QUESTIONS)[number];
