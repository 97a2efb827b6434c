// Errors of a bucket that files of a store lie in. What its server says is repeated; keys are in none of it.
import { GloamError } from './gloam-error.ts';

const KEYS =
  'Keys, region and endpoint come from the environment or from its files (AWS_ACCESS_KEY_ID, AWS_REGION, AWS_ENDPOINT_URL_S3 …)';

/** @param found in words, without any part that may be secret */
export function bucketAddressUnreadable(found: string): GloamError {
  return new GloamError({
    code: 'bucket-address-unreadable',
    message: `The address of the bucket: found ${found}; expected s3://BUCKET/PREFIX, names alone.`,
    hint: `It is taken from GLOAM_BLOBS, else from "blobs" of the configuration. ${KEYS}. gloam help many-machines tells more.`,
    data: { found },
  });
}

export function bucketMissing(place: string): GloamError {
  return new GloamError({
    code: 'bucket-missing',
    message: `${place}: found no bucket of that name.`,
    hint: 'gloam makes none: make it with the tools of its server, or name the right one with GLOAM_BLOBS.',
    data: { place },
  });
}

export function bucketRefused(place: string, reason: string): GloamError {
  return new GloamError({
    code: 'bucket-refused',
    message: `${place}: the bucket does not let this user do that: ${reason}`,
    hint: `The user has to list the bucket, and to read, write and delete what is in it. ${KEYS}.`,
    data: { place, reason },
  });
}

/** @param region where it is, if its server said so */
export function bucketElsewhere(place: string, region: string | null): GloamError {
  return new GloamError({
    code: 'bucket-elsewhere',
    message: `${place}: found the bucket in ${region === null ? 'another region' : `the region ${region}`}; expected it in the one that was asked.`,
    hint: `Set AWS_REGION${region === null ? '' : ` to ${region}`}; where the server is another one than that of the region, AWS_ENDPOINT_URL_S3 names it.`,
    data: { place, region },
  });
}

export function bucketKeysMissing(place: string, reason: string): GloamError {
  return new GloamError({
    code: 'bucket-keys-missing',
    message: `${place}: found no keys for the bucket, or no region: ${reason}`,
    hint: `${KEYS}, never from the configuration.`,
    data: { place, reason },
  });
}

export function bucketUnreachable(place: string, reason: string): GloamError {
  return new GloamError({
    code: 'bucket-unreachable',
    message: `${place}: the bucket cannot be reached: ${reason}`,
    hint: 'Look whether its server runs and AWS_ENDPOINT_URL_S3 names it. What is stored is unharmed; gloam run --resume goes on.',
    data: { place, reason },
  });
}

export function bucketLibraryMissing(place: string): GloamError {
  return new GloamError({
    code: 'bucket-library-missing',
    message: `${place}: found no @aws-sdk/client-s3; expected it beside gloam, since it talks to buckets.`,
    hint: 'npm install --save-dev @aws-sdk/client-s3. Only stores with a bucket need it, so it does not come along.',
    data: { place },
  });
}
