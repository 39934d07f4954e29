Console.WriteLine("see the classes in this folder");
