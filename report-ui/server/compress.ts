// Answers packed for whoever says that they can unpack them: the page's files once and for good, JSON as it is sent.
import { constants, brotliCompressSync, gzip, gzipSync } from 'node:zlib';
import { promisify } from 'node:util';
import type { FastifyInstance } from 'fastify';

const packed = promisify(gzip);
/** Below this an answer fits into one packet anyway. */
const LEAST_BYTES = 1_400;
/** Quick; on loopback packing must not take longer than sending. */
const LEVEL = 2;

export type Coding = 'br' | 'gzip' | null;

/** RFC 9110 §12.5.3, as far as browsers use it: a coding is taken where it is named and its weight is not 0. */
export function codingFor(accepted: string | undefined): Coding {
  const named = (accepted ?? '').split(',').map((part) => part.trim().toLowerCase());
  const takes = (coding: string): boolean =>
    named.some((part) => part === coding || (part.startsWith(`${coding};`) && !/;\s*q=0(\.0*)?$/.test(part)));
  return takes('br') ? 'br' : takes('gzip') ? 'gzip' : null;
}

/** A file in each coding, made when first asked for. */
export function packer(content: Buffer): (coding: Coding) => Buffer {
  const kept = new Map<Coding, Buffer>([[null, content]]);
  return (coding) => {
    const known = kept.get(coding);
    if (known !== undefined) return known;
    const made =
      coding === 'br' ? brotliCompressSync(content, { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } }) : gzipSync(content);
    kept.set(coding, made);
    return made;
  };
}

export function packJson(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload) => {
    if (typeof payload !== 'string' || payload.length < LEAST_BYTES || reply.hasHeader('content-encoding')) return payload;
    if (!String(reply.getHeader('content-type')).startsWith('application/json')) return payload;
    void reply.header('vary', 'accept-encoding');
    if (codingFor(request.headers['accept-encoding']) === null) return payload; // every browser that takes Brotli takes gzip
    void reply.header('content-encoding', 'gzip').removeHeader('content-length');
    return packed(payload, { level: LEVEL });
  });
}
