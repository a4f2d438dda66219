/** The recording of one note of the piano, as stored. Null where it did not come. */
export async function fetchSample(name: string): Promise<ArrayBuffer | null> {
  try {
    const response = await fetch(`/samples/${name}.mp3`);
    return response.ok ? await response.arrayBuffer() : null;
  } catch {
    return null;
  }
}
