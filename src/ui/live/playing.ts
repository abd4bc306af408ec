/** Plays live pictures in a video; where the browser refuses, nothing else stops. */
export function playing(shown: MediaStream): (video: HTMLVideoElement) => () => void {
  return (video) => {
    video.muted = true;
    video.srcObject = shown;
    void video.play().catch(() => undefined);
    return () => {
      video.srcObject = null;
    };
  };
}
