import { z } from 'zod';

const jointSchema = z
  .strictObject({
    x: z.number().min(-1e5).max(1e5),
    y: z.number().min(-1e5).max(1e5),
    certainty: z.enum(['measured', 'uncertain']),
  })
  .nullable();

/** The figure as it is sent: pixels of its picture, null for a joint that is not measured. */
export const jointsSchema = z.strictObject({
  shoulder: jointSchema,
  elbow: jointSchema,
  wrist: jointSchema,
  hip: jointSchema,
});
