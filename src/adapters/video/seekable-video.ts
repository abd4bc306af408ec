import {
  ALL_FORMATS,
  BlobSource,
  BufferTarget,
  Conversion,
  Input,
  Output,
  WebMOutputFormat,
} from 'mediabunny';

/**
 * Writes a recorded video anew, with its duration and an index of its moments, which a recorder does not write. Pictures are
 * copied as they are; of one that broke off, as many as are whole. Rejects where nothing can be read.
 */
export async function makeSeekable(video: Blob): Promise<Blob> {
  const input = new Input({ formats: ALL_FORMATS, source: new BlobSource(video) });
  try {
    const target = new BufferTarget();
    const output = new Output({ format: new WebMOutputFormat(), target });
    const conversion = await Conversion.init({ input, output });
    await conversion.execute();
    if (target.buffer === null) throw new Error('makeSeekable: nothing was written.');
    return new Blob([target.buffer], { type: 'video/webm' });
  } finally {
    input.dispose();
  }
}
