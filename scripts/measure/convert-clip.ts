import { spawn } from 'node:child_process';

/**
 * Converts a clip that the browser cannot decode to H.264 in MP4, with ffmpeg where it is installed. Every picture
 * keeps its own time, pictures are upright, the longer side is at most 1280. Returns whether it worked.
 */
export async function convertClip(from: string, to: string): Promise<boolean> {
  // The option that keeps each picture's time was renamed in ffmpeg 5.1.
  for (const keepTimes of ['-fps_mode', '-vsync'])
    if (await succeeds('ffmpeg', convertArguments(from, to, keepTimes))) return true;
  return false;
}

function convertArguments(from: string, to: string, keepTimes: string): string[] {
  const fit = "scale='trunc(iw*min(1,1280/max(iw,ih))/2)*2':'trunc(ih*min(1,1280/max(iw,ih))/2)*2'";
  return [
    ...['-hide_banner', '-loglevel', 'error', '-nostdin', '-y', '-copyts', '-i', from],
    ...['-map', '0:v:0', '-an', '-vf', fit, keepTimes, 'passthrough', '-enc_time_base', '-1'],
    ...['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '16', '-bf', '0', '-pix_fmt', 'yuv420p'],
    ...['-video_track_timescale', '90000', '-avoid_negative_ts', 'disabled', '-f', 'mp4', to],
  ];
}

function succeeds(command: string, args: readonly string[]): Promise<boolean> {
  return new Promise((resolve) => {
    const child = spawn(command, args, { stdio: 'ignore' });
    child.on('error', () => resolve(false));
    child.on('close', (code) => resolve(code === 0));
  });
}
