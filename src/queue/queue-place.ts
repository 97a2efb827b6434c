// Where the queue of a project is.
export interface QueuePlace {
  /** `postgres://…`, with whatever secret it needs. */
  readonly address: string;
  /** Schema of the project. */
  readonly schema: string;
  /** As messages name it, without secrets. */
  readonly place: string;
  /** This process, as others are told: machine and number. */
  readonly who: string;
}
