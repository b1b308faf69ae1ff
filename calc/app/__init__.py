"""The whole handbook put together: pages by name, the page’s protocol, the command line."""
