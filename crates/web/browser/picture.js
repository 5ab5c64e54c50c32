// A picture as a camera would send one, made here so that none of anybody's lies in the repository.

import { deflateSync } from "node:zlib";

/**
 * The check sum of a piece of a PNG.
 * @param {Buffer} bytes
 */
function crc32(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}

/**
 * A grey picture as PNG.
 * @param {number} width
 * @param {number} height
 */
export function picture(width, height) {
  const chunk = (/** @type {string} */ kind, /** @type {Buffer} */ data) => {
    const body = Buffer.concat([Buffer.from(kind), data]);
    const edge = Buffer.alloc(8);
    edge.writeUInt32BE(data.length, 0);
    edge.writeUInt32BE(crc32(body), 4);
    return Buffer.concat([edge.subarray(0, 4), body, edge.subarray(4)]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 0, 0, 0, 0], 8);
  const rows = Buffer.alloc((width + 1) * height, 140);
  for (let row = 0; row < height; row++) rows[row * (width + 1)] = 0;
  const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);
  return Buffer.concat([signature, chunk("IHDR", head), chunk("IDAT", deflateSync(rows)), chunk("IEND", Buffer.alloc(0))]);
}
