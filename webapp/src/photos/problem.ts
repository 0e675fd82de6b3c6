// Why a photo was not taken in.

/**
 * 'unreadable': the browser knows no such picture; 'pixels': too many to decode on a phone; 'full': there
 * is too little room left; 'no_storage': the browser stores no photos here; 'failed': it could not be drawn.
 */
export type PhotoProblemReason = 'unreadable' | 'pixels' | 'full' | 'no_storage' | 'failed'

/** Nothing of the photo was kept, and no change names it. */
export class PhotoProblem extends Error {
  constructor(readonly reason: PhotoProblemReason, message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = 'PhotoProblem'
  }
}
