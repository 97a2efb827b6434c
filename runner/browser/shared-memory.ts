// Where the browser's processes hand pictures to one another: in memory, where the system has room for that. Playwright has them do so in
// files of the temporary folder, since containers often give 64 MB, in which a tall picture has no room and the page crashes.
import { statfs } from 'node:fs/promises';

const FOLDER = '/dev/shm';
/** Pictures of pages 12,000 px tall, two at a time, took 260 MB (measured). */
const LEAST_BYTES = 2 * 1024 ** 3;

/** @param least bytes that are free @returns false also where the system has no such folder */
export async function hasRoomInMemory(folder = FOLDER, least = LEAST_BYTES): Promise<boolean> {
  try {
    const { bavail, bsize } = await statfs(folder);
    return bavail * bsize >= least;
  } catch {
    return false;
  }
}
