// Which process is meant: its number alone says little, since numbers are given again, and other machines and name spaces have their own.
import { createHash } from 'node:crypto';
import { readFileSync, readlinkSync } from 'node:fs';
import { hostname } from 'node:os';

/** Of a process: enough to tell it from every other. */
export interface Owner {
  /** In which numbers of processes mean something: one name space of one start of a machine. */
  readonly place: string;
  readonly pid: number;
  /** Clock ticks between the machine's start and its own; `0` where the system does not tell. */
  readonly start: string;
}

/** Lower-case letters, digits and hyphens only: part of a folder's name. */
export function nameOfOwner({ place, pid, start }: Owner): string {
  return `${place}-${String(pid)}-${start}`;
}

export function ownerNamed(name: string): Owner | null {
  const groups = /^(?<place>[0-9a-f]{8})-(?<pid>[1-9]\d*)-(?<start>\d+)$/u.exec(name)?.groups;
  const { place, pid, start } = groups ?? {};
  return place === undefined || pid === undefined || start === undefined ? null : { place, pid: Number(pid), start };
}

export function thisProcess(): Owner {
  return { place: placeOfProcesses(), pid: process.pid, start: startOf(process.pid) };
}

/** Whether it certainly lives no more. What another machine or name space owns is not known, and neither is who lives in it. */
export function isGone({ place, pid, start }: Owner): boolean {
  if (place !== placeOfProcesses()) return false;
  // Its number may have gone to somebody else.
  return !isAlive(pid) || (start !== '0' && startOf(pid) !== start);
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Somebody else's process is alive too.
    return error instanceof Error && 'code' in error && error.code !== 'ESRCH';
  }
}

/** proc(5), stat: behind the name in brackets follow the state as field 3 and the start as field 22. */
function startOf(pid: number): string {
  const stat = readOrNothing(() => readFileSync(`/proc/${String(pid)}/stat`, 'utf8'));
  return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? '0';
}

function placeOfProcesses(): string {
  const facts = [() => readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim(), () => readlinkSync('/proc/self/ns/pid')];
  return createHash('sha256')
    .update([hostname(), ...facts.map(readOrNothing)].join(' '))
    .digest('hex')
    .slice(0, 8);
}

function readOrNothing(read: () => string): string {
  try {
    return read();
  } catch {
    return '';
  }
}
