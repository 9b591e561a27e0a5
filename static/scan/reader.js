/** The page's side of the decoder: one picture at a time goes to the worker and its reads come back. */

const LONGEST = 1600;       // of a photo, longest side [pixels]
const DECODER = new URL("./decoder.js", import.meta.url);

/** Draw a picture here where a worker cannot draw (no OffscreenCanvas). */
function drawn(source, width, height) {
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [width, height];
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  pen.drawImage(source, 0, 0, width, height);
  return pen.getImageData(0, 0, width, height);
}

async function message(source, width, height) {
  if (typeof OffscreenCanvas === "undefined") {
    const pixels = drawn(source, width, height);
    return [{ pixels }, [pixels.data.buffer]];
  }
  const picture = await createImageBitmap(source, { resizeWidth: width, resizeHeight: height, resizeQuality: "high" });
  return [{ picture }, [picture]];
}

/** Start a decoder. `read(source, width, height)` gives [{text, format}]; `close()` frees its memory. */
export function openReader() {
  const worker = new Worker(DECODER, { type: "module" });
  const waiting = new Map();
  let id = 0;
  worker.addEventListener("message", ({ data }) => {
    const done = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.fault) done?.reject(new Error(data.fault));
    else done?.resolve(data.reads);
  });
  worker.addEventListener("error", (event) => {
    for (const done of waiting.values()) done.reject(new Error(event.message ?? "decoder"));
    waiting.clear();
  });
  return {
    async read(source, width, height) {
      const [said, handed] = await message(source, width, height);
      id += 1;
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve, reject });
        worker.postMessage({ id, ...said }, handed);
      });
    },
    close: () => worker.terminate(),
  };
}

/** Read the symbols in a photo that was taken or chosen. */
export async function readPhoto(reader, file) {
  const photo = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, LONGEST / Math.max(photo.width, photo.height));
  try {
    return await reader.read(photo, Math.round(photo.width * scale), Math.round(photo.height * scale));
  } finally {
    photo.close();
  }
}
