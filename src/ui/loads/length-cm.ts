/** Metres as the forms show them: centimetres, to the millimetre, without what binary fractions leave behind. */
export function toCm(metres: number): number {
  return Math.round(metres * 1000) / 10;
}

/** Centimetres of a form as metres, to a tenth of a millimetre. */
export function fromCm(centimetres: number): number {
  return Math.round(centimetres * 100) / 10000;
}
