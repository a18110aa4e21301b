// Questions that overtake each other: one is on its way, the newest waits, those between are dropped.

/** At most one request in flight; after its answer the newest question asked meanwhile goes out. */
export class Latest<Question, Answer> {
  #send: (question: Question) => Promise<Answer>;
  #got: (answer: Answer, question: Question) => void;
  #waiting: { question: Question } | null = null;
  #busy = false;
  #era = 0;

  constructor(send: (question: Question) => Promise<Answer>, got: (answer: Answer, question: Question) => void) {
    this.#send = send;
    this.#got = got;
  }

  get busy(): boolean {
    return this.#busy;
  }

  ask(question: Question): void {
    this.#waiting = { question };
    if (!this.#busy) void this.#run();
  }

  /** Answers to what was asked before are no longer wanted. */
  forget(): void {
    ++this.#era;
    this.#waiting = null;
  }

  async #run(): Promise<void> {
    this.#busy = true;
    try {
      while (this.#waiting) {
        const { question } = this.#waiting;
        this.#waiting = null;
        const era = this.#era;
        try {
          const answer = await this.#send(question);
          if (era === this.#era) this.#got(answer, question);
        } catch (error) {
          // What is wrong with one question must not silence the next.
          console.error(error);
        }
      }
    } finally {
      this.#busy = false;
    }
  }
}
