// Makes a long and large film out of a short one, within a second and without an encoder: the frames
// of the short film again and again, and after each round as much room as a phone's film would fill.
// The room is a hole in the file, so it takes no place on the disk.
//
// The tables of an MP4 file say where each frame lies (ISO/IEC 14496-12). They stand at its end, as in
// a film that a phone has just written.

import { closeSync, openSync, readFileSync, writeSync } from "node:fs";

const CONTAINERS = ["moov", "trak", "mdia", "minf", "stbl", "edts"];
const HEAD = 8;

const word = (value) => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
};

const box = (kind, body) => Buffer.concat([word(HEAD + body.length), Buffer.from(kind), body]);

/** Puts a film's boxes together anew, each as `change` says by its kind. */
function rebuilt(bytes, change) {
  const parts = [];
  for (let at = 0; at < bytes.length; at += bytes.readUInt32BE(at)) {
    const kind = bytes.toString("latin1", at + 4, at + HEAD);
    const body = bytes.subarray(at + HEAD, at + bytes.readUInt32BE(at));
    const inside = CONTAINERS.includes(kind) ? rebuilt(body, change) : body;
    parts.push(box(kind, change[kind]?.(inside) ?? inside));
  }
  return Buffer.concat(parts);
}

/** The same bytes with one number times `rounds`. */
const longer = (at, rounds) => (body) => {
  const copy = Buffer.from(body);
  copy.writeUInt32BE(copy.readUInt32BE(at) * rounds, at);
  return copy;
};

/** The entries of a table again and again; `size` is its head, whose last four bytes count them. */
const again = (size, rounds, alter = (entries) => entries) => (body) => {
  const entries = body.subarray(size);
  const all = Array.from({ length: rounds }, (_, round) => alter(Buffer.from(entries), round));
  const head = Buffer.from(body.subarray(0, size));
  head.writeUInt32BE(head.readUInt32BE(size - 4) * rounds, size - 4);
  return Buffer.concat([head, ...all]);
};

const eachPlus = (more) => (entries, round) => {
  for (let at = 0; at < entries.length; at += 4) {
    entries.writeUInt32BE(entries.readUInt32BE(at) + more(round), at);
  }
  return entries;
};

/**
 * Writes `rounds` rounds of a film to `to`, about `bytes` long. The short film has one track, all of
 * its frames in one chunk and its tables before them, as `make_clips.mjs` writes it.
 */
export function makeLongFilm(from, to, rounds, bytes) {
  const film = readFileSync(from);
  const size = (at) => film.readUInt32BE(at);
  const moovAt = size(0);
  const moov = film.subarray(moovAt, moovAt + size(moovAt));
  const mediaAt = film.indexOf("mdat", moovAt + moov.length, "latin1") + 4;
  const media = film.subarray(mediaAt, mediaAt - HEAD + size(mediaAt - HEAD));
  const stride = Math.floor(bytes / rounds);
  const begin = moovAt + HEAD;
  const frames = moov.readUInt32BE(moov.indexOf("stsz", 0, "latin1") + 12);
  const moved = eachPlus((round) => begin - mediaAt + round * stride);
  const tables = rebuilt(moov, {
    mvhd: longer(16, rounds),
    tkhd: longer(20, rounds),
    mdhd: longer(16, rounds),
    elst: longer(8, rounds),
    stts: longer(8, rounds),
    stss: again(8, rounds, eachPlus((round) => round * frames)),
    ctts: again(8, rounds),
    stsz: again(12, rounds),
    stco: again(8, rounds, moved),
  });
  const file = openSync(to, "w");
  try {
    writeSync(file, film.subarray(0, moovAt), 0, moovAt, 0);
    writeSync(file, box("mdat", Buffer.alloc(0)), 0, HEAD, moovAt);
    writeSync(file, word(HEAD + rounds * stride), 0, 4, moovAt);
    for (let round = 0; round < rounds; round += 1) {
      writeSync(file, media, 0, media.length, begin + round * stride);
    }
    writeSync(file, tables, 0, tables.length, begin + rounds * stride);
  } finally {
    closeSync(file);
  }
}
