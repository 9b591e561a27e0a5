/** The camera: opened, watched frame by frame, and which failure it was when it does not come. */

const SILENT_MS = 10000;
const WANTED = { audio: false, video: { facingMode: { ideal: "environment" }, width: { ideal: 1280 }, height: { ideal: 720 } } };

/** Exceptions of getUserMedia (W3C Media Capture and Streams, 10.1) as a person's reasons. */
const REASONS = {
  NotAllowedError: "refused", SecurityError: "refused", NotFoundError: "none", OverconstrainedError: "none",
  NotReadableError: "in-use", AbortError: "in-use",
};

/** Give the reason why a camera did not come: refused, none, in-use, not-secure, silent or unknown. */
export const reasonOf = (error) => REASONS[error?.name] ?? (error?.reason || "unknown");

const because = (reason) => Object.assign(new Error(reason), { reason });

/** Let a promise that may never settle (a question that nobody answers) end after a while. */
function notForEver(promise) {
  let timer;
  const silent = new Promise((_, reject) => { timer = setTimeout(() => reject(because("silent")), SILENT_MS); });
  promise.then(() => {}, () => {});
  return Promise.race([promise, silent]).finally(() => clearTimeout(timer));
}

/** Open the camera that looks away from the person; throws with a reason. */
export async function openCamera(onLate = () => {}) {
  if (!globalThis.isSecureContext || !navigator.mediaDevices?.getUserMedia) throw because("not-secure");
  const asked = navigator.mediaDevices.getUserMedia(WANTED);
  try {
    return await notForEver(asked);
  } catch (error) {
    if (error.reason === "silent") asked.then(onLate, () => {});    // a late yes still counts
    throw error;
  }
}

/** Switch the camera's lamp; says whether there is one. */
export async function setLamp(stream, on) {
  const [track] = stream.getVideoTracks();
  if (!track?.getCapabilities?.().torch) return false;
  return track.applyConstraints({ advanced: [{ torch: on }] }).then(() => true, () => false);
}

export const hasLamp = (stream) => Boolean(stream.getVideoTracks()[0]?.getCapabilities?.().torch);

/** Hand each new frame of a video to `look`, one at a time, until it says true or `stop` is called. */
export function watchFrames(video, look) {
  let isOn = true;
  const next = () => {
    if (!isOn) return;
    if (video.requestVideoFrameCallback) video.requestVideoFrameCallback(frame);
    else requestAnimationFrame(frame);
  };
  const frame = async () => {
    if (!isOn) return;
    if (!video.videoWidth || await look(video) !== true) next();
  };
  next();
  return () => { isOn = false; };
}

/** End a stream, so that the camera's light goes out. */
export const closeCamera = (stream) => stream?.getTracks().forEach((track) => track.stop());
