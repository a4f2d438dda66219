/**
 * A WAV file: PCM, 16 bits, one channel (RIFF, Microsoft and IBM 1991).
 * @param samples -1 to 1
 */
export function wavOf(samples: Float32Array, rate: number): Buffer {
  const head = Buffer.alloc(44);
  head.write('RIFF', 0, 'latin1');
  head.writeUInt32LE(36 + 2 * samples.length, 4);
  head.write('WAVEfmt ', 8, 'latin1');
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(1, 20);
  head.writeUInt16LE(1, 22);
  head.writeUInt32LE(rate, 24);
  head.writeUInt32LE(2 * rate, 28);
  head.writeUInt16LE(2, 32);
  head.writeUInt16LE(16, 34);
  head.write('data', 36, 'latin1');
  head.writeUInt32LE(2 * samples.length, 40);
  const data = Buffer.alloc(2 * samples.length);
  samples.forEach((sample, i) =>
    data.writeInt16LE(Math.round(32_767 * Math.max(-1, Math.min(1, sample))), 2 * i),
  );
  return Buffer.concat([head, data]);
}
