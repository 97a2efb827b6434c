// What the library and the server of a bucket report → an error that says what to do.
import {
  bucketElsewhere,
  bucketKeysMissing,
  bucketLibraryMissing,
  bucketMissing,
  bucketRefused,
  bucketUnreachable,
} from '../../errors/bucket-errors.ts';
import { GloamError } from '../../errors/gloam-error.ts';
import { storeUnwell } from '../../errors/ledger-errors.ts';
import { codeOf } from '../database/ledger-fault.ts';

/** Amazon S3, "Error responses"; other servers of its kind use the same names. */
const REFUSED =
  /^(AccessDenied|AllAccessDisabled|InvalidAccessKeyId|SignatureDoesNotMatch|ExpiredToken|InvalidToken|RequestTimeTooSkewed|AccountProblem|Forbidden)$/u;
const ELSEWHERE = /^(PermanentRedirect|TemporaryRedirect|AuthorizationHeaderMalformed|IllegalLocationConstraintException)$/u;
const AWAY = /^(TimeoutError|NetworkingError|SlowDown|ServiceUnavailable|InternalError|RequestTimeout)$/u;
const NETWORK = /^(ECONN|ENOTFOUND|EHOSTUNREACH|ENETUNREACH|ETIMEDOUT|EPIPE|EAI_AGAIN)/u;

/** Whether it says that what was asked for is not there; a bucket that is not there says so by another name where it can. */
export function isAbsent(error: unknown): boolean {
  return (
    nameOf(error) === 'NoSuchKey' || nameOf(error) === 'NotFound' || (statusOf(error) === 404 && nameOf(error) !== 'NoSuchBucket')
  );
}

/** @param place as messages name it @returns an error of the catalogue */
export function bucketFault(place: string, error: unknown): GloamError {
  if (error instanceof GloamError) return error;
  const [name, status, code] = [nameOf(error), statusOf(error), codeOf(error)];
  if (code === 'ERR_MODULE_NOT_FOUND') return bucketLibraryMissing(place);
  if (name === 'NoSuchBucket') return bucketMissing(place);
  if (ELSEWHERE.test(name) || status === 301) return bucketElsewhere(place, regionOf(error));
  if (REFUSED.test(name) || status === 401 || status === 403) return bucketRefused(place, reasonOf(error));
  if (name === 'CredentialsProviderError' || /^Region (is missing|not accepted)/u.test(reasonOf(error)))
    return bucketKeysMissing(place, reasonOf(error));
  if (AWAY.test(name) || NETWORK.test(code) || status >= 500 || status === 429) return bucketUnreachable(place, reasonOf(error));
  return storeUnwell(place, error);
}

function nameOf(error: unknown): string {
  return error instanceof Error ? error.name : '';
}

function statusOf(error: unknown): number {
  const facts = memberOf(error, '$metadata');
  const status = memberOf(facts, 'httpStatusCode');
  return typeof status === 'number' ? status : 0;
}

/** A sentence, or the name where there is none: an answer without a body has no more. */
function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const said = [error.message, codeOf(error), error.name].find((text) => text !== '' && text !== 'UnknownError') ?? '';
  const status = statusOf(error);
  return said === '' || /^\d+$/u.test(said) ? `it answered with ${String(status)}` : said;
}

function regionOf(error: unknown): string | null {
  const region = memberOf(error, 'Region') ?? memberOf(memberOf(memberOf(error, '$response'), 'headers'), 'x-amz-bucket-region');
  return typeof region === 'string' ? region : null;
}

function memberOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null && name in value
    ? (value as Readonly<Record<string, unknown>>)[name]
    : undefined;
}
