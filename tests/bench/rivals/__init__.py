"""Other ways to plan the same yards, each as its friends would tune it; they run in processes of their own."""
