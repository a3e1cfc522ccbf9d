-- Rigs in Neovim, from 0.7: put this into init.lua, or as earloom.lua into the folder plugin/ beside it. "earloom" has to be on the path.
vim.api.nvim_create_autocmd({ "BufRead", "BufNewFile" }, { pattern = "*.rig", command = "setfiletype rig" })

vim.api.nvim_create_autocmd("FileType", {
  pattern = "rig",
  callback = function(args)
    vim.bo[args.buf].commentstring = "# %s"
    local folder = vim.fn.fnamemodify(vim.api.nvim_buf_get_name(args.buf), ":p:h")
    -- What a rig uses may lie beside it, or anywhere in the repository that it is kept in.
    local repository = vim.fn.finddir(".git", folder .. ";")
    local root = repository == "" and folder or vim.fn.fnamemodify(repository, ":p:h:h")
    local server = { name = "earloom", cmd = { "earloom", "serve" }, root_dir = root }
    if vim.lsp.start then
      vim.lsp.start(server)
    else
      server.workspace_folders = { { name = root, uri = vim.uri_from_fname(root) } }
      vim.lsp.buf_attach_client(args.buf, vim.lsp.start_client(server))
    end
  end,
})
