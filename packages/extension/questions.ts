/**
 * Questions one after the other in the same place. The place stays open from the first to the last: where it closed in between, what was
 * asked from would take the keyboard back, and the next answer would be typed into nothing.
 */
import * as vscode from 'vscode';

interface Asked {
  readonly title: string;
}

/** Asks all that there is to ask; the place closes after the last answer. */
export async function ask<T>(all: (questions: Questions) => Promise<T>): Promise<T> {
  const questions = new Questions();
  try {
    return await all(questions);
  } finally {
    questions.dispose();
  }
}

export class Questions implements vscode.Disposable {
  private shown: vscode.QuickInput | undefined;

  /** Nothing where somebody has thought better of it. `wrong` says what is the matter with an answer: as long as it does, it is none. */
  text(asked: Asked & { prompt: string; value: string; wrong?: (answer: string) => string | undefined }): Promise<string | undefined> {
    const box = vscode.window.createInputBox();
    const judge = () => {
      box.validationMessage = asked.wrong?.(box.value);
    };
    box.prompt = asked.prompt;
    box.value = asked.value;
    // What is there already goes with the first key.
    box.valueSelection = [0, asked.value.length];
    box.onDidChangeValue(judge);
    judge();
    return this.show(box, asked, () => (box.validationMessage ? undefined : box.value));
  }

  pick<T extends vscode.QuickPickItem>(items: readonly T[], asked: Asked & { placeHolder: string }): Promise<T | undefined> {
    const list = vscode.window.createQuickPick<T>();
    list.placeholder = asked.placeHolder;
    list.items = items;
    return this.show(list, asked, () => list.selectedItems[0]);
  }

  dispose(): void {
    this.shown?.dispose();
  }

  private show<T>(
    question: vscode.QuickInput & { readonly onDidAccept: vscode.Event<void> },
    { title }: Asked,
    answer: () => T | undefined,
  ): Promise<T | undefined> {
    const before = this.shown;
    this.shown = question;
    question.title = title;
    question.ignoreFocusOut = true;
    return new Promise((resolve) => {
      question.onDidAccept(() => {
        const given = answer();
        if (given !== undefined) resolve(given);
      });
      question.onDidHide(() => resolve(undefined));
      question.show();
      before?.dispose();
    });
  }
}
