import type { Band, Bar } from '../../core/loads/equipment.ts';
import type { EquipmentKind } from './new-equipment.ts';

/** What each kind is called on screens. */
export const KIND_WORDS: Readonly<Record<EquipmentKind, string>> = {
  bar: 'Bar',
  'body-curl-set-up': 'Fixed bar, body hanging back',
  band: 'Elastic band',
  dumbbell: 'Dumbbell',
};

export const SUPPORT_OPTIONS: readonly { value: Bar['supportShape']; label: string; note: string }[] = [
  { value: 'open-above', label: 'Open above', note: 'The bar lies in hooks and can be lifted out.' },
  { value: 'open-in-front', label: 'Open in front', note: 'The bar can roll or slide out on one side.' },
  { value: 'closed', label: 'Closed', note: 'Rings or clamps: the bar cannot leave them.' },
];

export const LEAVES_HAND_OPTIONS: readonly { value: Band['leavesHand']; label: string; note: string }[] = [
  { value: 'thumb-side', label: 'At the thumb', note: 'It runs out of the fist beside the thumb.' },
  { value: 'middle', label: 'In the palm', note: 'A handle across the palm, or the band round the hand.' },
  {
    value: 'little-finger-side',
    label: 'At the little finger',
    note: 'It runs out of the fist beside the little finger.',
  },
];
