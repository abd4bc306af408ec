/** How a figure looks that is only reckoned with, never drawn. */
export const PLAIN_LOOKS = {
  skin: 0,
  hair: 0,
  hairStyle: 'short',
  shirt: 0,
  shorts: 0,
  shoes: 0,
  sleeve: 0.5,
  legwear: 0.8,
} as const;
