// Whether files of a store lie in a folder or in a bucket, and where in it. Pure.

export interface BucketAddress {
  readonly bucket: string;
  /** Without slashes at its ends; '' is the whole bucket. */
  readonly prefix: string;
}

export function isBucketAddress(text: string): boolean {
  return /^s3:/iu.test(text);
}

/** @returns null for what is no such address: nothing but names may stand in it, least of all keys */
export function readBucketAddress(text: string): BucketAddress | null {
  // Amazon S3, "General purpose bucket naming rules", and what other servers of its kind allow beyond them: capitals and `_`.
  const [whole, bucket = '', prefix = ''] = /^s3:\/\/([a-z0-9][\w.-]{1,61}[a-z0-9])(?:\/([\w!.*'()/-]*))?$/iu.exec(text) ?? [];
  return whole === undefined ? null : { bucket, prefix: prefix.replace(/^\/+|\/+$/gu, '') };
}

/** @param name of a folder in it */
export function insideBucket(address: string, name: string): string {
  return `${address.replace(/\/+$/u, '')}/${name}`;
}
