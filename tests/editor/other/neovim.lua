-- Drives Neovim through a rig as somebody would, and writes what it saw as JSON. It is run after the settings that we document.
local out, wait = {}, function(what, ready)
  if not vim.wait(20000, ready, 50) then
    error("nothing came: " .. what)
  end
end
local function ask(method, params)
  local answers = vim.lsp.buf_request_sync(0, method, params, 20000)
  for _, answer in pairs(answers or {}) do
    if answer.result then return answer.result end
  end
end
local function line_of(words)
  return vim.fn.search(words, "cw")
end
local ok, problem = pcall(function()
  vim.cmd("edit club.rig")
  out.filetype = vim.bo.filetype
  wait("mistakes", function() return #vim.diagnostic.get(0) > 0 end)
  out.codes = vim.tbl_map(function(each) return each.code end, vim.diagnostic.get(0))
  line_of("input iface.1  takes reed")
  vim.fn.search("iface", "c", vim.fn.line("."))
  local here = vim.lsp.util.make_position_params()
  out.hover = vim.inspect(ask("textDocument/hover", here))
  local at = vim.diagnostic.get(0)[1]
  local range = { start = { line = at.lnum, character = at.col }, ["end"] = { line = at.end_lnum, character = at.end_col } }
  local actions = ask("textDocument/codeAction", {
    textDocument = here.textDocument,
    range = range,
    context = { diagnostics = { at.user_data and at.user_data.lsp and vim.tbl_extend("force", at.user_data.lsp, { range = range, message = at.message, code = at.code }) or { range = range, message = at.message, code = at.code } } },
  })
  out.actions = vim.tbl_map(function(each) return each.title end, actions)
  local cure = vim.tbl_filter(function(each) return each.isPreferred or each.kind == "quickfix" end, actions)[1]
  vim.lsp.util.apply_workspace_edit(cure.edit, "utf-16")
  wait("no mistake", function() return #vim.diagnostic.get(0) == 0 end)
  out.mended = vim.api.nvim_buf_get_lines(0, 0, -1, false)
end)
out.problem = not ok and tostring(problem) or nil
local file = io.open("seen.json", "w")
file:write(vim.fn.json_encode(out))
file:close()
vim.cmd("qall!")
