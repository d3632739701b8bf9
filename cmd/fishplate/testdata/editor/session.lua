-- A session of a person at the keyboard, in Neovim without a screen. What it sees goes to
-- the file OUT, a line each. ROOT is the shop's folder.

local out = assert(io.open(os.getenv("OUT"), "w"))
local function say(...)
  out:write(table.concat({ ... }, " "), "\n")
  out:flush()
end

local function finish(...)
  say(...)
  out:close()
  vim.cmd("qall!")
end

local root = os.getenv("ROOT")

-- open opens a file; what the README says starts the server.
local function open(name)
  vim.cmd("edit " .. root .. "/" .. name)
end

-- await is a diagnostic of this buffer whose message has some words in it.
local function await(words)
  local found
  vim.wait(30000, function()
    for _, d in ipairs(vim.diagnostic.get(0)) do
      if d.message:find(words, 1, true) then
        found = d
      end
    end
    return found ~= nil
  end, 20)
  return found
end

local function ask(method, more)
  local params = vim.tbl_extend("force", vim.lsp.util.make_position_params(0, "utf-16"), more or {})
  local answers, err = vim.lsp.buf_request_sync(0, method, params, 30000)
  if not answers then
    return nil, err
  end
  for _, a in pairs(answers) do
    return a.result, a.err
  end
end

-- What the checks found is there once the file is open.
open("builds/marten/build.toml")
local d = await("lb-ft over")
say("found:", d and (d.code or (d.user_data and d.user_data.lsp and d.user_data.lsp.code)) or "nothing")

-- A key is typed wrong, and told as it is typed.
vim.fn.search([[^\[vehicle\.front\]$]])
vim.cmd([[normal! obump-trvel = "3 ½ in" # 🔧]])
d = await("bump-trvel")
say("fault:", d and d.message or "nothing")
say("at:", d and (d.lnum - vim.fn.line(".") + 1) .. ":" .. d.col or "nowhere")

-- The fault is put right by completing the key.
vim.cmd([[normal! S]] .. "bump")
vim.cmd("normal! $")
vim.api.nvim_win_set_cursor(0, { vim.fn.line("."), 3 })
local list = ask("textDocument/completion")
for _, item in ipairs(list and (list.items or list) or {}) do
  if item.label == "bump-travel" then
    vim.lsp.util.apply_text_edits({ item.textEdit }, vim.api.nvim_get_current_buf(), "utf-16")
  end
end
vim.cmd([[normal! A"3 ½ in" # 🔧]])
say("completed:", vim.fn.getline("."))
say("faults left:", tostring(vim.wait(30000, function()
  for _, x in ipairs(vim.diagnostic.get(0)) do
    if x.severity == vim.diagnostic.severity.ERROR then
      return false
    end
  end
  return true
end, 20) and "none" or "some"))

-- What a value is.
vim.fn.search([[wheelbase = "]], "e")
local hover = ask("textDocument/hover")
say("hover:", hover and hover.contents.value:match("122[^\n]*") or "nothing")

-- An entry is renamed where it is named, and with it all that names it.
open("builds/marten/gaps.toml")
vim.fn.search([[part\.fan]])
local where = ask("textDocument/definition")
say("defined in:", where and where.uri:match("[^/]+$") or "nowhere")
vim.lsp.buf.rename("blower")
local renamed = vim.wait(30000, function()
  return vim.fn.search([["part\.blower"]], "nw") > 0
end, 20)
say("renamed:", tostring(renamed))
vim.cmd("wall")

-- It is ended as it should be.
local clients = vim.lsp.get_active_clients and vim.lsp.get_active_clients() or vim.lsp.get_clients()
vim.lsp.stop_client(clients)
local stopped = vim.wait(10000, function()
  return vim.lsp.client_is_stopped(clients[1].id)
end, 20)
finish("stopped:", #clients, tostring(stopped))
