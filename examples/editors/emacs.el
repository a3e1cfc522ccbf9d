;; Rigs in Emacs, with Eglot (a part of Emacs from 29, a package before): put this into your init file. "earloom" has to be on the path.
(define-derived-mode rig-mode prog-mode "Rig"
  "A band's in-ear monitor rig."
  (setq-local comment-start "# "))
(modify-syntax-entry ?# "<" rig-mode-syntax-table)
(modify-syntax-entry ?\n ">" rig-mode-syntax-table)
(modify-syntax-entry ?- "w" rig-mode-syntax-table)
(add-to-list 'auto-mode-alist '("\\.rig\\'" . rig-mode))

(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs '(rig-mode . ("earloom" "serve"))))
(add-hook 'rig-mode-hook #'eglot-ensure)
