// A screenshot in at most 256 colours: the commonest stay as they are, the others become the nearest of them.
import { deflateSync, inflateSync } from "node:zlib";

const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);

function crc(data: Buffer): number {
  let c = 0xffffffff;
  for (const byte of data) {
    c ^= byte;
    for (let k = 0; k < 8; ++k) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
}
function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc(body), body.length + 4);
  return out;
}

/** Undoes PNG's line filters in place (PNG specification, 9.2). */
function unfilter(raw: Buffer, width: number, height: number, bytes: number): Buffer {
  const stride = width * bytes;
  const out = Buffer.alloc(stride * height);
  for (let y = 0; y < height; ++y) {
    const kind = raw[y * (stride + 1)]!;
    for (let x = 0; x < stride; ++x) {
      const a = x >= bytes ? out[y * stride + x - bytes]! : 0;
      const b = y > 0 ? out[(y - 1) * stride + x]! : 0;
      const c = x >= bytes && y > 0 ? out[(y - 1) * stride + x - bytes]! : 0;
      let guess = 0;
      if (kind === 1) guess = a;
      else if (kind === 2) guess = b;
      else if (kind === 3) guess = (a + b) >> 1;
      else if (kind === 4) {
        const [pa, pb, pc] = [Math.abs(b - c), Math.abs(a - c), Math.abs(a + b - 2 * c)];
        guess = pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
      }
      out[y * stride + x] = (raw[y * (stride + 1) + 1 + x]! + guess) & 255;
    }
  }
  return out;
}

/** Of a PNG of eight bits a channel, colour with or without opacity, not interlaced: as browsers make them. */
export function small(png: Buffer): Buffer {
  let [width, height, bytes] = [0, 0, 3];
  const parts: Buffer[] = [];
  for (let at = 8; at < png.length; ) {
    const length = png.readUInt32BE(at);
    const type = png.toString("latin1", at + 4, at + 8);
    const data = png.subarray(at + 8, at + 8 + length);
    if (type === "IHDR") [width, height, bytes] = [data.readUInt32BE(0), data.readUInt32BE(4), data[9] === 6 ? 4 : 3];
    if (type === "IDAT") parts.push(data);
    at += length + 12;
  }
  const pixels = unfilter(inflateSync(Buffer.concat(parts)), width, height, bytes);
  const colour = (i: number) => (pixels[i * bytes]! << 16) | (pixels[i * bytes + 1]! << 8) | pixels[i * bytes + 2]!;
  const counts = new Map<number, number>();
  for (let i = 0; i < width * height; ++i) counts.set(colour(i), (counts.get(colour(i)) ?? 0) + 1);
  const palette = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]).slice(0, 256).map(([c]) => c);
  const place = new Map(palette.map((c, i) => [c, i]));
  for (const c of counts.keys()) {
    if (place.has(c)) continue;
    const far = (p: number) => ((p >> 16) - (c >> 16)) ** 2 + (((p >> 8) & 255) - ((c >> 8) & 255)) ** 2 + ((p & 255) - (c & 255)) ** 2;
    place.set(c, palette.reduce((best, p, i) => (far(p) < far(palette[best]!) ? i : best), 0));
  }
  const lines = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; ++y) for (let x = 0; x < width; ++x) lines[y * (width + 1) + 1 + x] = place.get(colour(y * width + x))!;
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 3, 0, 0, 0], 8);
  const colours = Buffer.from(palette.flatMap((c) => [c >> 16, (c >> 8) & 255, c & 255]));
  return Buffer.concat([signature, chunk("IHDR", head), chunk("PLTE", colours), chunk("IDAT", deflateSync(lines, { level: 9 })), chunk("IEND", Buffer.alloc(0))]);
}
