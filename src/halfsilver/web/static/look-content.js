// Pictures for the screen: built in, put with the job, or chosen here; shown whole, black beside them.
import { lightOf } from "./look-gl.js";

const LONGEST = 1280;

/** A picture in the proportions of a piece's screen, from an address or a file that stays here. */
export async function pictureFrom(source, { picture, gamma }) {
  const blob = typeof source === "string" ? await (await answered(source)).blob() : source;
  const image = await createImageBitmap(blob);
  const aspect = (picture.right_mm - picture.left_mm) / (picture.top_mm - picture.bottom_mm);
  const [width, height] = aspect > 1 ? [LONGEST, Math.round(LONGEST / aspect)] : [Math.round(LONGEST * aspect), LONGEST];
  const canvas = Object.assign(document.createElement("canvas"), { width, height });
  const ink = canvas.getContext("2d", { willReadFrequently: true });
  ink.fillRect(0, 0, width, height);
  const scale = Math.min(width / image.width, height / image.height);
  const [wide, high] = [image.width * scale, image.height * scale];
  ink.imageSmoothingQuality = "high";
  ink.drawImage(image, (width - wide) / 2, (height - high) / 2, wide, high);
  image.close();
  return lightOf(ink.getImageData(0, 0, width, height), gamma);
}

async function answered(address) {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error("The picture cannot be had.");
  return answer;
}

/** Where a picture of the list is. */
export const addressOf = (from, name) => (name === "own" ? `${from.replace(/look$/, "file/beside/content.png")}` : `${from}/content/${name}.png`);
